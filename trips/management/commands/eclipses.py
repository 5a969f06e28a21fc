"""Print the eclipses of Moon and Sun, and what a place sees of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Any

from django.core.management.base import CommandParser
from django.utils.translation import gettext as _

from trips.almanac.places import place_of
from trips.almanac.sky_records import (
    LUNAR_CONTACTS,
    SOLAR_CONTACTS,
    eclipse_records,
    negligible,
)
from trips.almanac.solar_events import never_look
from trips.almanac.wording import SkyError, sentence
from trips.management.place_options import add_place_options, doubt_of, site_asked
from trips.management.plain import (
    PlainCommand,
    RefusalError,
    add_date_options,
    add_format_option,
    read_date,
)
from trips.management.printing import Record, rendered
from trips.models import Site

COLUMNS = {name: name for name in ("kind", "type", "greatest", "contacts", "visible")}


class Command(PlainCommand):
    help = (
        "Print the eclipses whose greatest falls on the dates (UTC): of the Moon with their\n"
        "contacts, of the Sun with those of a place. With a place also which moments are seen\n"
        "above its level horizon."
    )
    example = (
        "example:\n"
        "  manage.py eclipses --start 2026-01-01 --end 2028-12-31\n"
        "  manage.py eclipses --start 2026-08-01 --end 2026-08-31 --lat 42.3 --lon -3.7 \\\n"
        "      --elevation 860 --format json"
    )

    def add_arguments(self, parser: CommandParser) -> None:
        add_date_options(parser)
        add_place_options(parser)
        add_format_option(parser)

    def handle(self, **options: Any) -> None:
        first = read_date("--start", options["start"])
        last = read_date("--end", options["end"])
        try:
            site = site_asked(options)
            records = eclipse_records(first, last, place_of(site) if site else None)
        except SkyError as error:
            raise RefusalError(sentence(error)) from error
        flat = {"csv": _in_columns, "table": _in_line}.get(options["format"], dict)
        self.stdout.write(
            rendered([flat(record) for record in records], options["format"], COLUMNS)
        )
        for note in _notes(site, records, negligible(first, last)):
            self.stderr.write(note)


def _notes(site: Site | None, records: Sequence[Record], slight: Sequence[date]) -> Iterator[str]:
    if site and (doubt := doubt_of(site)):
        yield doubt
    if not records:
        yield _("Note: no eclipse falls on these dates.")
    for day in slight:
        yield _("Note: nobody can see the eclipse of %s, it is too slight.") % day
    if any(record["kind"] == "solar" and record["visible"] != [] for record in records):
        yield never_look()


def _in_columns(record: Record) -> Record:
    """Give each contact a column of its own, the Moon's first."""
    contacts = dict.fromkeys((*LUNAR_CONTACTS, *SOLAR_CONTACTS)) | record["contacts"]
    return {
        column: cell
        for name, value in record.items()
        for column, cell in (contacts if name == "contacts" else {name: value}).items()
    }


def _in_line(record: Record) -> Record:
    """Write the contacts that happen beside each other."""
    happening = {name: time for name, time in record["contacts"].items() if time}
    told = " ".join(f"{name} {time[11:19]}" for name, time in happening.items())
    return record | {"contacts": told or None}
