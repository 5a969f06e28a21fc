"""The sky over a site as sky's value: measured where somebody has, else estimated from towns."""

from __future__ import annotations

from sky.light.brightness import LocalSky
from sky.light.skyglow import glow_at
from sky.light.usable import DarkEnough
from trips.almanac.places import place_of
from trips.models import Site


def local_sky(site: Site) -> LocalSky:
    """Give what is known of the site's sky. Errors: those of Place and LocalSky."""
    ring = tuple((float(azimuth), float(mag)) for azimuth, mag in site.sky_by_azimuth)
    is_measured = site.sky_brightness is not None or bool(ring)
    return LocalSky(
        zenith_mag=site.sky_brightness,
        ring=ring,
        towns_share=0.0 if is_measured else glow_at(place_of(site)).share,
        extinction=site.extinction,
    )


def estimated_mag(site: Site) -> float:
    """Give the sky overhead where nobody measured it, to a tenth: more than it is good for."""
    return round(local_sky(site).overhead_mag, 1)


def dark_enough(site: Site) -> DarkEnough:
    """Give what the site bears of Moon and twilight. Errors: `loss_outside`, as `local_sky`."""
    return DarkEnough(local_sky(site), site.usable_loss_mag)
