"""The horizon of a site in words."""

from __future__ import annotations

from django.utils.formats import number_format
from django.utils.translation import gettext as _

from sky.horizon import dip_degrees

# From lower places the horizon dips by a third of a degree at most.
LEAST_HEIGHT_M = 100.0


def open_horizon(elevation_m: float) -> str:
    """Say how much lower than level the horizon of a high site can lie; nothing of a low one."""
    if elevation_m < LEAST_HEIGHT_M:
        return ""
    said = _(
        "Where the ground falls away, the horizon lies lower than these times assume: "
        "seen from %(metres)s\u00a0m down to the sea by about %(dip)s°."
    )
    return said % {
        "metres": number_format(round(elevation_m), use_l10n=True),
        "dip": number_format(round(dip_degrees(elevation_m), 1), 1),
    }
