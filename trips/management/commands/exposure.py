"""Print how long a still camera can look at the stars, and which ISO that sky then wants."""

from __future__ import annotations

from typing import Any

from django.core.management.base import CommandParser
from django.utils.translation import gettext as _

from trips.almanac.camera_records import (
    ISO_STEPS,
    STOPS_BELOW_GREY,
    TRAIL_PX,
    Exposure,
    exposure_of,
    exposure_record,
)
from trips.almanac.wording import SkyError, sentence
from trips.management.camera_options import (
    add_camera_options,
    doubt_of_lens,
    lens_asked,
    sensor_asked,
)
from trips.management.plain import PlainCommand, RefusalError, add_format_option, read_number
from trips.management.printing import rendered

TIMES = ("drift_limit_s", "drift_limit_corner_s", "rule_500_s", "rule_300_s", "suggested_time_s")
COLUMNS = {name: name for name in (*TIMES, "iso")}


class Command(PlainCommand):
    help = (
        "Print the seconds in which a star trails by so many pixels, in the middle of the frame\n"
        "and where it moves fastest; the rules 500/f and 300/f beside them; the longest shutter\n"
        "step that keeps to the limit in the middle; and the ISO that this sky wants then."
    )
    example = (
        "example:\n"
        "  manage.py exposure --focal 24 --aperture 2.8 --pixel 4.3 --declination -29 --sky 21.5\n"
        "  manage.py exposure --focal 14 --aperture 2 --pixel 6 --declination 0 --sky 19 --time 10"
    )

    def add_arguments(self, parser: CommandParser) -> None:
        add_camera_options(parser)
        parser.add_argument("--aperture", required=True, metavar="N", help=_("the N of f/N"))
        parser.add_argument("--pixel", required=True, metavar="UM", help=_("side of a pixel, µm"))
        parser.add_argument(
            "--declination", required=True, metavar="DEGREES", help=_("of the frame's middle")
        )
        parser.add_argument(
            "--sky", required=True, metavar="MAG", help=_("sky brightness there, mag/arcsec²")
        )
        parser.add_argument(
            "--trail", default=str(TRAIL_PX), metavar="PX", help=_("default: 5; strict: 2")
        )
        parser.add_argument(
            "--time", metavar="SECONDS", help=_("of the ISO; default: the suggested time")
        )
        parser.add_argument(
            "--background",
            default=str(STOPS_BELOW_GREY),
            metavar="STOPS",
            help=_("how far below mid-grey the sky is to come out; default: 1.5"),
        )
        parser.add_argument(
            "--top-iso", default=str(ISO_STEPS[-1]), metavar="ISO", help=_("the camera's highest")
        )
        add_format_option(parser)

    def handle(self, **options: Any) -> None:
        try:
            found = _found(options)
            doubt = doubt_of_lens(lens_asked(options))
        except SkyError as error:
            raise RefusalError(sentence(error)) from error
        self.stdout.write(rendered([exposure_record(found)], options["format"], COLUMNS))
        for note in (doubt, _short_of(found)):
            if note:
                self.stderr.write(note)


def _found(options: dict[str, Any]) -> Exposure:
    number = {
        name: read_number(f"--{name}", options[name])
        for name in ("aperture", "pixel", "declination", "sky", "trail", "background")
    }
    time = options["time"]
    return exposure_of(
        lens_asked(options),
        sensor_asked(options, pixel_um=number["pixel"]),
        f_number=number["aperture"],
        declination=number["declination"],
        sky_mag=number["sky"],
        allowed_px=number["trail"],
        seconds=None if time is None else read_number("--time", time),
        stops_below=number["background"],
        top_iso=read_number("--top-iso", options["top_iso"]),
    )


def _short_of(found: Exposure) -> str:
    """Say by how much the camera's ISO ends before what the sky wants."""
    if not found.iso.is_at_end:
        return ""
    words = (
        _("Note: ISO %(iso)d is the highest, and leaves the sky %(stops).1f stops too dark.")
        if found.iso.stops_off < 0
        else _("Note: ISO %(iso)d is the lowest, and leaves the sky %(stops).1f stops too bright.")
    )
    return words % {"iso": found.iso.step, "stops": abs(found.iso.stops_off)}
