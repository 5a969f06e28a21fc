"""Print the nights of a place: Sun, Moon, and when it is dark without the Moon."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.core.management.base import CommandParser
from django.utils.translation import gettext as _

from trips.almanac.dates import check_dates
from trips.almanac.nights import compute_nights
from trips.almanac.records import night_record
from trips.almanac.wording import SkyError, sentence
from trips.management.place_options import add_place_options, doubt_of, site_of
from trips.management.plain import (
    DARK_LEVELS,
    PlainCommand,
    RefusalError,
    add_season_options,
    progress,
    read_dark_level,
    read_date,
)
from trips.management.printing import rendered
from trips.models import Night, Site

COLUMNS = {
    "night": "night",
    "sunset": "sunset",
    "sunrise": "sunrise",
    "moonrise": "moonrise",
    "moonset": "moonset",
    "moon_illuminated": "lit",
    "dark_hours": "dark h",
    "moonless_hours": "moonless h",
    "moonless": "moonless",
    "usable_dark_hours": "usable dark h",
    "note": "note",
}


class Command(PlainCommand):
    help = (
        "Print every night of a place: sunset to sunrise, the Moon, dark and moonless hours;\n"
        "beside these the usable dark overhead, when Moon and twilight brighten the sky little."
    )
    example = (
        "example:\n"
        "  manage.py nights --lat 40.4 --lon -1.1 --elevation 1600 --zone Europe/Madrid \\\n"
        "      --start 2027-03-01 --end 2027-03-31 --format csv\n"
        "  manage.py nights --site 'Alto' --start 2027-03-01 --end 2027-03-31"
    )

    def add_arguments(self, parser: CommandParser) -> None:
        add_place_options(parser)
        add_season_options(parser)

    def handle(self, **options: Any) -> None:
        first = read_date("--start", options["start"])
        last = read_date("--end", options["end"])
        dark_level = read_dark_level(options["dark_level"])
        try:
            check_dates(first, last)
            site = site_of(options)
            rows = _nights(site, first, last)
        except SkyError as error:
            raise RefusalError(sentence(error)) from error
        if doubt := doubt_of(site):
            self.stderr.write(doubt)
        records = [night_record(row, site.zone, dark_level) for row in rows]
        self.stdout.write(rendered(records, options["format"], COLUMNS))
        if rows and (note := _never_dark(rows, dark_level)):
            self.stderr.write(note)


def _nights(site: Site, first: date, last: date) -> list[Night]:
    """Compute year by year: the same nights, and progress in between."""
    rows: list[Night] = []
    with progress((last - first).days + 1, "night") as bar:
        for year in range(first.year, last.year + 1):
            begin, end = max(first, date(year, 1, 1)), min(last, date(year, 12, 31))
            rows += compute_nights(site, begin, end)
            bar.update((end - begin).days + 1)
    return rows


def _never_dark(rows: list[Night], dark_level: int) -> str | None:
    """Never say "none" without saying what the next levels give."""
    dark = {
        level: sum(getattr(row, f"dark_hours_{-level}") > 0 for row in rows)
        for level in DARK_LEVELS
        if level >= dark_level
    }
    if dark.pop(dark_level) or not dark:
        return None
    return _("Note: no night gets dark at %(level)d°; %(others)s.") % {
        "level": dark_level,
        "others": ", ".join(
            _("at %(level)d° %(count)d of them do") % {"level": level, "count": count}
            for level, count in dark.items()
        ),
    }
