"""What the computing commands share: refusals in one sentence, options read, progress shown."""

from __future__ import annotations

import sys
from argparse import RawDescriptionHelpFormatter
from datetime import date, datetime, time
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils.translation import gettext as _
from tqdm import tqdm

FORMATS = ("table", "json", "csv")
DARK_LEVELS = (-18, -15, -12)


class RefusalError(CommandError):
    """Input that a person can put right: one plain sentence, exit code 2."""

    def __init__(self, sentence: str) -> None:
        super().__init__(sentence, returncode=2)


class PlainCommand(BaseCommand):
    """A command that says a refusal as it is, and prints nothing else when it refuses."""

    example = ""

    def create_parser(self, prog_name: str, subcommand: str, **kwargs: Any) -> CommandParser:
        kwargs.setdefault("epilog", self.example)
        kwargs.setdefault("formatter_class", RawDescriptionHelpFormatter)
        return super().create_parser(prog_name, subcommand, **kwargs)

    def execute(self, *args: Any, **options: Any) -> str | None:
        try:
            return super().execute(*args, **options)
        except RefusalError as refusal:
            # Django would put the name of the exception before the sentence.
            if not getattr(self, "_called_from_command_line", False):
                raise
            self.stderr.write(str(refusal))
            sys.exit(refusal.returncode)


def add_season_options(parser: CommandParser) -> None:
    """Add the options of a stretch of nights, its dark level and the form of the answer."""
    add_date_options(parser)
    parser.add_argument(
        "--dark-level", default="-18", metavar="DEGREES", help=_("dark when the Sun is that low")
    )
    add_format_option(parser)


def add_date_options(parser: CommandParser) -> None:
    parser.add_argument("--start", required=True, metavar="DATE", help=_("first night, 2027-03-01"))
    parser.add_argument("--end", required=True, metavar="DATE", help=_("last night, included"))


def add_format_option(parser: CommandParser) -> None:
    parser.add_argument("--format", choices=FORMATS, default="table", help=_("default: table"))


def read_number(option: str, text: str) -> float:
    try:
        return float(text)
    except ValueError:
        raise RefusalError(
            _("%(option)s: “%(text)s” is not a number; write it with a point, such as 40.4.")
            % {"option": option, "text": text}
        ) from None


def read_date(option: str, text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise RefusalError(
            _("%(option)s: “%(text)s” is not a date; write it as 2027-03-01.")
            % {"option": option, "text": text}
        ) from None


def read_moment(option: str, text: str) -> datetime:
    """Read a date with an hour; without an offset it is on the clock of the place."""
    try:
        if len(text) > len("2027-03-01"):
            return datetime.fromisoformat(text)
    except ValueError:
        pass
    raise RefusalError(
        _("%(option)s: “%(text)s” is not a moment; write it as 2027-03-01T23:30, local, or with Z.")
        % {"option": option, "text": text}
    )


def read_year(option: str, text: str) -> int:
    if not (text.isascii() and text.isdigit() and len(text) == 4):
        raise RefusalError(
            _("%(option)s: “%(text)s” is not a year; write it as 2027.")
            % {"option": option, "text": text}
        )
    return int(text)


def read_clock(option: str, text: str) -> time:
    try:
        clock = time.fromisoformat(text)
    except ValueError:
        clock = None
    if clock is None or clock.tzinfo is not None:
        raise RefusalError(
            _("%(option)s: “%(text)s” is not an hour; write it as 02:00.")
            % {"option": option, "text": text}
        )
    return clock


def read_dark_level(text: str) -> int:
    by_text = {str(level): level for level in DARK_LEVELS}
    if text not in by_text:
        raise RefusalError(
            _("--dark-level: “%(text)s” is none of %(levels)s.")
            % {"text": text, "levels": ", ".join(by_text)}
        )
    return by_text[text]


def progress(total: int, unit: str) -> Any:
    """Make a bar on stderr that shows itself only when the work takes more than a second."""
    return tqdm(total=total, unit=unit, delay=1, file=sys.stderr, leave=False)
