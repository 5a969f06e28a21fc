"""Print the nights of a place: Sun, Moon, and when it is dark without the Moon."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.core.management.base import CommandParser
from django.utils.translation import gettext as _

from trips.almanac.dates import check_dates
from trips.almanac.nights import compute_nights
from trips.almanac.places import looks_swapped, place_of, zone_misfit
from trips.almanac.records import night_record
from trips.almanac.wording import SkyError, sentence
from trips.management.plain import (
    DARK_LEVELS,
    PlainCommand,
    RefusalError,
    add_season_options,
    progress,
    read_dark_level,
    read_date,
    read_number,
)
from trips.management.printing import Record, as_csv, as_json, as_table
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
    "note": "note",
}


class Command(PlainCommand):
    help = "Print every night of a place: sunset to sunrise, the Moon, dark and moonless hours."
    example = (
        "example:\n"
        "  manage.py nights --lat 40.4 --lon -1.1 --elevation 1600 --zone Europe/Madrid \\\n"
        "      --start 2027-03-01 --end 2027-03-31 --format csv\n"
        "  manage.py nights --site 'Alto' --start 2027-03-01 --end 2027-03-31"
    )

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--lat", metavar="DEGREES", help=_("latitude, north positive"))
        parser.add_argument("--lon", metavar="DEGREES", help=_("longitude, east positive"))
        parser.add_argument("--elevation", default="0", metavar="METRES", help=_("default: 0"))
        parser.add_argument("--zone", default="", help=_("default: found from the position"))
        parser.add_argument(
            "--site", metavar="NAME", help=_("a stored site, instead of a position")
        )
        add_season_options(parser)

    def handle(self, **options: Any) -> None:
        first = read_date("--start", options["start"])
        last = read_date("--end", options["end"])
        dark_level = read_dark_level(options["dark_level"])
        try:
            check_dates(first, last)
            site = _site(options)
            rows = _nights(site, first, last)
        except SkyError as error:
            raise RefusalError(sentence(error)) from error
        self._warn(site)
        records = [night_record(row, site.zone, dark_level) for row in rows]
        self.stdout.write(_rendered(records, options["format"]))
        if rows and (note := _never_dark(rows, dark_level)):
            self.stderr.write(note)

    def _warn(self, site: Site) -> None:
        found = zone_misfit(site.zone, site.latitude, site.longitude)
        if found is None:
            return
        warning = _("Note: %(found)s is kept at this position, not %(zone)s.") % {
            "found": found,
            "zone": site.zone,
        }
        if looks_swapped(site.zone, site.latitude, site.longitude):
            warning += " " + _("Latitude and longitude may be swapped.")
        self.stderr.write(warning)


def _site(options: dict[str, Any]) -> Site:
    if options["site"] is not None:
        if options["lat"] is not None or options["lon"] is not None or options["zone"]:
            raise RefusalError(
                _("Give --site alone, or a position with --lat and --lon, not both.")
            )
        return _stored_site(options["site"])
    if options["lat"] is None or options["lon"] is None:
        raise RefusalError(_("Give a position with --lat and --lon, or a stored site with --site."))
    site = Site(
        latitude=read_number("--lat", options["lat"]),
        longitude=read_number("--lon", options["lon"]),
        elevation_m=read_number("--elevation", options["elevation"]),
        zone=options["zone"],
    )
    site.zone = place_of(site).zone
    return site


def _stored_site(name: str) -> Site:
    found = list(Site.objects.current().filter(name=name)[:2])
    if not found:
        raise RefusalError(_("--site: there is no site called “%s”.") % name)
    if len(found) > 1:
        raise RefusalError(
            _("--site: several organisations have a site called “%s”; give --lat and --lon.") % name
        )
    site: Site = found[0]
    return site


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


def _rendered(records: list[Record], form: str) -> str:
    if form == "json":
        return as_json(records)
    return as_csv(records) if form == "csv" else as_table(records, COLUMNS)
