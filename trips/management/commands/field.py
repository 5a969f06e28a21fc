"""Print how much of the sky a lens and a sensor take in."""

from __future__ import annotations

from typing import Any

from django.core.management.base import CommandParser
from django.utils.translation import gettext as _

from trips.almanac.camera_records import field_record
from trips.almanac.wording import SkyError, sentence
from trips.management.camera_options import (
    add_camera_options,
    doubt_of_lens,
    lens_asked,
    sensor_asked,
)
from trips.management.plain import PlainCommand, RefusalError, add_format_option, read_number
from trips.management.printing import rendered

COLUMNS = {name: name for name in ("horizontal", "vertical", "diagonal", "pixel_scale")}
# Of a sensor whose pixels are not asked about.
ANY_PIXEL_UM = "4"


class Command(PlainCommand):
    help = (
        "Print the degrees of a picture across, down and from corner to corner; with --pixel also\n"
        "the arcseconds of a pixel in its middle."
    )
    example = (
        "example:\n"
        "  manage.py field --focal 24 --sensor 36x24 --pixel 4.3\n"
        "  manage.py field --focal 8 --sensor 23.5x15.6 --projection equisolid --format json"
    )

    def add_arguments(self, parser: CommandParser) -> None:
        add_camera_options(parser)
        parser.add_argument("--pixel", metavar="UM", help=_("side of a pixel, µm"))
        add_format_option(parser)

    def handle(self, **options: Any) -> None:
        pixel = options["pixel"]
        pixel_um = read_number("--pixel", ANY_PIXEL_UM if pixel is None else pixel)
        try:
            lens, sensor = lens_asked(options), sensor_asked(options, pixel_um=pixel_um)
            record = field_record(lens, sensor, has_pixels=pixel is not None)
        except SkyError as error:
            raise RefusalError(sentence(error)) from error
        self.stdout.write(rendered([record], options["format"], COLUMNS))
        if record["is_circle"]:
            self.stderr.write(_("Note: the picture is a circle, and the corners stay black."))
        if doubt := doubt_of_lens(lens):
            self.stderr.write(doubt)
