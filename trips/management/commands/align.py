"""Print when a target stands at an azimuth, or at an azimuth and an altitude, over a place."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django.core.management.base import CommandParser
from django.utils.translation import gettext as _

from trips.almanac.alignments import (
    Aim,
    Found,
    Target,
    alignment_record,
    find,
    hidden_words,
    why_words,
)
from trips.almanac.local_sky import dark_enough
from trips.almanac.places import place_of
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
    "at": "at",
    "from": "from",
    "to": "to",
    "altitude": "altitude",
    "azimuth": "azimuth",
}


class Command(PlainCommand):
    help = (
        "Print when a target stands at an azimuth of a place: the instant at which it passes; or,\n"
        "with an altitude, when it is nearest to both. Altitudes are as they are seen, with\n"
        "refraction. From and to: the stretch inside the tolerance, measured on the sky.\n"
        "What suits any light is not looked for while the Sun is above −6°, unless --light is any."
    )
    example = (
        "example:\n"
        "  manage.py align --target 'M 31' --azimuth 74 --altitude 55 --lat 40.4 --lon -1.1 \\\n"
        "      --start 2027-08-01 --end 2027-10-31\n"
        "  manage.py align --ra 17h45m40s --dec=-29d00m28s --azimuth 180 --site 'Alto' \\\n"
        "      --light any --start 2027-03-01 --end 2027-10-31 --format csv"
    )

    def add_arguments(self, parser: CommandParser) -> None:
        add_target_options(parser)
        parser.add_argument(
            "--azimuth", required=True, metavar="DEGREES", help=_("from true north")
        )
        parser.add_argument(
            "--azimuth-tolerance", default="2", metavar="DEGREES", help=_("on the sky; default: 2")
        )
        parser.add_argument("--altitude", metavar="DEGREES", help=_("default: any"))
        parser.add_argument(
            "--altitude-tolerance", default="1", metavar="DEGREES", help=_("default: 1")
        )
        parser.add_argument(
            "--least-altitude", default="0", metavar="DEGREES", help=_("default: the horizon")
        )
        add_horizon_option(parser)
        add_place_options(parser)
        add_season_options(parser)

    def handle(self, **options: Any) -> None:
        first = read_date("--start", options["start"])
        last = read_date("--end", options["end"])
        level, horizon = read_dark_level(options["dark_level"]), read_horizon(options["horizon"])
        try:
            target, aim = target_asked(options), _aim(options)
            site = site_of(options)
            found = find(
                target,
                aim,
                place_of(site),
                first,
                last,
                skyline=horizon.skyline,
                light=options["light"],
                dark_level=level,
                enough=dark_enough(site),
            )
        except SkyError as error:
            raise RefusalError(sentence(error)) from error
        if doubt := doubt_of(site):
            self.stderr.write(doubt)
        records = [alignment_record(one, site.zone) for one in found.alignments]
        self.stdout.write(rendered(records, options["format"], COLUMNS))
        for said in (*horizon.notices, *_notes(found, target, aim)):
            self.stderr.write(_("Note: %s") % said)


def _notes(found: Found, target: Target, aim: Aim) -> Iterator[str]:
    if found.why:
        yield why_words(found.why, target, aim)
    if found.hidden:
        yield hidden_words(found, aim)


def _aim(options: dict[str, Any]) -> Aim:
    def number(name: str) -> float:
        return read_number(f"--{name.replace('_', '-')}", options[name])

    altitude = None if options["altitude"] is None else number("altitude")
    return Aim(
        azimuth_degrees=number("azimuth"),
        altitude_degrees=altitude,
        azimuth_tolerance_degrees=number("azimuth_tolerance"),
        altitude_tolerance_degrees=number("altitude_tolerance"),
        least_altitude_degrees=number("least_altitude"),
    )
