"""Which lens and which sensor a command is asked about."""

from __future__ import annotations

import re
from typing import Any

from django.core.management.base import CommandParser
from django.utils.translation import gettext as _

from trips.almanac.camera_records import PROJECTIONS, Lens, Sensor, sensor_of
from trips.management.plain import RefusalError, read_number

SIDES = re.compile(r"(?P<width>[^x×]+)[x×](?P<height>[^x×]+)")


def add_camera_options(parser: CommandParser) -> None:
    parser.add_argument(
        "--focal", required=True, metavar="MM", help=_("focal length, as written on the lens")
    )
    parser.add_argument(
        "--sensor", default="36x24", metavar="MMxMM", help=_("its width and height; default: 36x24")
    )
    parser.add_argument(
        "--projection",
        choices=PROJECTIONS,
        default=PROJECTIONS[0],
        help=_("default: rectilinear; the others are those of fisheyes"),
    )


def lens_asked(options: dict[str, Any]) -> Lens:
    """Errors: those of `Lens`."""
    return Lens(read_number("--focal", options["focal"]), projection=options["projection"])


def sensor_asked(options: dict[str, Any], *, pixel_um: float) -> Sensor:
    """Errors: those of `sensor_of`."""
    text = options["sensor"]
    sides = SIDES.fullmatch(text)
    if not sides:
        raise RefusalError(
            _("--sensor: “%(text)s” is no width and height; write them in mm, as 36x24.")
            % {"text": text}
        )
    width, height = (read_number("--sensor", sides[side]) for side in ("width", "height"))
    return sensor_of(width, height, pixel_um=pixel_um)


def doubt_of_lens(lens: Lens) -> str:
    """Say that only a phone has so short a lens; empty where it is none."""
    if not lens.is_phone_like:
        return ""
    return _(
        "Note: only a phone's second camera has a lens of %(focal)g mm; the number that phones are"
        " sold by is the equivalent on 36 × 24 mm."
    ) % {"focal": lens.focal_mm}
