"""Print when a target stands clear of a skyline in the wanted light, night by night."""

from __future__ import annotations

from typing import Any

from django.core.management.base import CommandParser
from django.utils.translation import gettext as _

from trips.almanac.local_sky import dark_enough
from trips.almanac.places import place_of
from trips.almanac.window_records import Asked, window_records
from trips.almanac.wording import SkyError, sentence
from trips.management.horizon_option import add_horizon_option, read_horizon
from trips.management.place_options import add_place_options, doubt_of, site_of
from trips.management.plain import (
    PlainCommand,
    RefusalError,
    add_season_options,
    read_dark_level,
    read_date,
    read_number,
)
from trips.management.printing import rendered
from trips.management.target_options import add_target_options, target_asked

COLUMNS = {
    "night": "night",
    "spans": "spans",
    "hours": "hours",
    "best": "best",
    "altitude": "altitude",
    "altitude_geometric": "geometric",
    "azimuth": "azimuth",
}


class Command(PlainCommand):
    help = (
        "Print each night in which a target stands above a skyline and a least altitude, in the\n"
        "light that is wanted: when, how long, and where it is highest then. Altitudes are as\n"
        "they are seen, with refraction; geometric ones are without. Nights without are left out."
    )
    example = (
        "example:\n"
        "  manage.py windows --target 'M 31' --lat 40.4 --lon -1.1 --elevation 1600 \\\n"
        "      --start 2027-08-01 --end 2027-10-31\n"
        "  manage.py windows --ra 266.417 --dec -29.008 --min-altitude 10 --light moonless \\\n"
        "      --horizon skyline.csv --site 'Alto' --start 2027-03-01 --end 2027-10-31 --format csv"
    )

    def add_arguments(self, parser: CommandParser) -> None:
        add_target_options(parser)
        parser.add_argument(
            "--min-altitude", metavar="DEGREES", help=_("as seen; default: as its kind has it")
        )
        add_horizon_option(parser)
        add_place_options(parser)
        add_season_options(parser)

    def handle(self, **options: Any) -> None:
        first = read_date("--start", options["start"])
        last = read_date("--end", options["end"])
        level, least = read_dark_level(options["dark_level"]), _least(options["min_altitude"])
        horizon = read_horizon(options["horizon"])
        try:
            target, site = target_asked(options), site_of(options)
            place = place_of(site)
            light, enough = options["light"], dark_enough(site)
            asked = Asked(target, place, horizon.skyline, light, least, level, enough)
            records, why = window_records(asked, first, last)
        except SkyError as error:
            raise RefusalError(sentence(error)) from error
        if doubt := doubt_of(site):
            self.stderr.write(doubt)
        self.stdout.write(rendered(records, options["format"], COLUMNS))
        for said in (*horizon.notices, *filter(None, (why,))):
            self.stderr.write(_("Note: %s") % said)


def _least(text: str | None) -> float | None:
    return None if text is None else read_number("--min-altitude", text)
