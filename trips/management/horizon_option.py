"""The skyline that a command computes with: level, or read from a file."""

from __future__ import annotations

from pathlib import Path

from django.core.management.base import CommandParser
from django.utils.translation import gettext as _

from trips.almanac.skylines import LEVEL
from trips.management.plain import RefusalError
from trips.skyline_table import ReadSkyline, read_skyline_table
from trips.tabular import TableError


def add_horizon_option(parser: CommandParser) -> None:
    parser.add_argument(
        "--horizon", metavar="FILE.csv", help=_("with azimuth,altitude; default: level")
    )


def read_horizon(name: str | None) -> ReadSkyline:
    """Read a skyline, or refuse the file with the line that is wrong."""
    if name is None:
        return ReadSkyline(LEVEL)
    try:
        return read_skyline_table(Path(name).read_bytes())
    except OSError as error:
        words = _("--horizon: %(path)s cannot be read: %(why)s.")
        raise RefusalError(words % {"path": name, "why": error.strerror or error}) from error
    except TableError as error:
        raise RefusalError(
            _("--horizon: %(path)s: %(said)s") % {"path": name, "said": error}
        ) from error
