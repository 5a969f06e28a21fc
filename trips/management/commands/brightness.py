"""Print how bright the sky is toward a direction at a moment."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from django.core.management.base import CommandParser
from django.utils.translation import gettext as _

from trips.almanac.brightness_records import NATURAL_MAG, LocalSky, brightness_records
from trips.almanac.local_sky import local_sky
from trips.almanac.places import place_of
from trips.almanac.wording import SkyError, sentence
from trips.management.place_options import add_place_options, doubt_of, site_of
from trips.management.plain import (
    PlainCommand,
    RefusalError,
    add_format_option,
    read_moment,
    read_number,
)
from trips.management.printing import rendered
from trips.models import Site

COLUMNS = {
    "at": "at",
    "altitude": "altitude",
    "azimuth": "azimuth",
    "moonlight_nl": "moonlight_nl",
    "twilight_nl": "twilight_nl",
    "sky_mag": "sky_mag",
    "loss_mag": "loss_mag",
    "naked_eye_limit": "faintest star",
}


class Command(PlainCommand):
    help = (
        "Print the sky's brightness toward a direction at a moment, in mag/arcsec² (V), good to\n"
        "half a magnitude: the natural sky, skyglow, moonlight and twilight in nanolamberts, how\n"
        "much Moon and twilight brighten it, and the faintest star that an eye then sees.\n"
        "A stored site has the glow that was measured there, or else that of the towns around\n"
        "it; a position has none."
    )
    example = (
        "example:\n"
        "  manage.py brightness --at 2027-03-20T23:30 --altitude 45 --azimuth 180 \\\n"
        "      --natural 22.0 --lat 40.4 --lon -1.1 --elevation 1600\n"
        "  manage.py brightness --at 2027-07-01T23:00Z --altitude 20 --azimuth 170 --site 'Alto'"
    )

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "--at", required=True, metavar="ISO", help=_("2027-03-20T23:30, local; or with Z")
        )
        parser.add_argument("--altitude", required=True, metavar="DEGREES", help=_("as seen"))
        parser.add_argument("--azimuth", required=True, metavar="DEGREES", help=_("from north"))
        parser.add_argument(
            "--natural",
            metavar="MAG",
            help=_("the zenith without lamps and Moon; default: %s") % NATURAL_MAG,
        )
        parser.add_argument(
            "--extinction", metavar="MAG", help=_("per airmass; default: the site's, or 0.172")
        )
        add_place_options(parser)
        add_format_option(parser)

    def handle(self, **options: Any) -> None:
        at = read_moment("--at", options["at"])
        altitude = read_number("--altitude", options["altitude"])
        azimuth = read_number("--azimuth", options["azimuth"])
        try:
            site = site_of(options)
            place, sky = place_of(site), _sky(site, options)
            records = brightness_records(sky, place, at, altitude, azimuth)
        except SkyError as error:
            raise RefusalError(sentence(error)) from error
        for doubt in (doubt_of(site), _doubt_of_glow(site, sky)):
            if doubt:
                self.stderr.write(doubt)
        self.stdout.write(rendered(records, options["format"], COLUMNS))


def _sky(site: Site, options: dict[str, Any]) -> LocalSky:
    """Give what is known of a stored site's sky, or a sky without lamps; what is asked wins."""
    known = local_sky(site) if options["site"] is not None else LocalSky()
    return replace(
        known,
        natural_mag=_asked("natural", options, known.natural_mag),
        extinction=_asked("extinction", options, known.extinction),
    )


def _doubt_of_glow(site: Site, sky: LocalSky) -> str:
    """Say that nobody measured where the towns' glow is taken; a doubt refuses nothing."""
    if not sky.towns_share:
        return ""
    words = _(
        "Note: nobody has measured the sky of %(site)s; its skyglow is estimated from the towns "
        "around, and too bright where many are near."
    )
    return words % {"site": site.name}


def _asked(option: str, options: dict[str, Any], known: float) -> float:
    text = options[option]
    return known if text is None else read_number(f"--{option}", text)
