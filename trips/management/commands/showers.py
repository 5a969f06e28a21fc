"""Print the peaks of a year's showers of meteors, and what a place sees of them."""

from __future__ import annotations

from typing import Any

from django.core.management.base import CommandParser
from django.utils.translation import gettext as _

from trips.almanac.places import place_of
from trips.almanac.sky_records import by_day, shower_records, spoilt
from trips.almanac.wording import SkyError, sentence
from trips.management.place_options import add_place_options, doubt_of, site_asked
from trips.management.plain import PlainCommand, RefusalError, add_format_option, read_year
from trips.management.printing import rendered

COLUMNS = {name: name for name in ("code", "name", "peak", "night", "rate")}


class Command(PlainCommand):
    help = (
        "Print when the showers of meteors of a year peak (UTC), the night nearest to each, and\n"
        "the meteors an hour: with a place when the radiant stands highest in the dark, under a\n"
        "sky of 6.5 mag; without one the zenithal rate, and the date in UTC."
    )
    example = (
        "example:\n"
        "  manage.py showers --year 2027 --lat 40.4 --lon -1.1 --elevation 1600 --format csv\n"
        "  manage.py showers --year 2027 --site 'Alto'"
    )

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--year", required=True, metavar="YEAR", help=_("such as 2027"))
        add_place_options(parser)
        add_format_option(parser)

    def handle(self, **options: Any) -> None:
        year = read_year("--year", options["year"])
        try:
            site = site_asked(options)
            place = place_of(site) if site else None
            records = shower_records(year, place)
        except SkyError as error:
            raise RefusalError(sentence(error)) from error
        self.stdout.write(rendered(records, options["format"], COLUMNS))
        self._note(doubt_of(site) if site else "")
        self._note(_listed(_("by day, not seen at night"), by_day(year)))
        self._note(_listed(_("spoilt by a bright Moon"), spoilt(year, place)))

    def _note(self, note: str) -> None:
        if note:
            self.stderr.write(note)


def _listed(why: str, names: list[str]) -> str:
    return _("Note, %(why)s: %(names)s.") % {"why": why, "names": ", ".join(names)} if names else ""
