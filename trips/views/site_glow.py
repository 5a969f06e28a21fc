"""The light of towns over a site: said, drawn along the skyline of its first spot, and listed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from django.utils.formats import number_format
from django.utils.text import capfirst
from django.utils.translation import gettext as _

from trips.almanac.bearings import POINTS, compass_point
from trips.almanac.local_sky import estimated_mag, local_sky
from trips.almanac.skyglow import (
    Glow,
    TownGlow,
    TownLine,
    caution_words,
    glow_of,
    percent,
    share_of_glow,
    strongest_words,
    sum_words,
    town_lines,
    town_words,
)
from trips.almanac.skyline_words import skyline_words
from trips.almanac.skylines import LEVEL, Skyline
from trips.almanac.spots import skyline_of_spot
from trips.charts.glow import STEP_DEGREES, Sector, glow_top, steps_of
from trips.charts.skyline import Figure, Seen, SkylinePicture, skyline_picture
from trips.models import Site, Spot
from trips.templatetags.comparing import magnitudes

SECTOR_DEGREES = 10.0
RING_ALTITUDE_DEGREES = 30.0  # where the log's directions are measured
LEAST_TOP = 36.0
MOST_NAMED, LEAST_NAMED = 8, 0.03
MOST_LISTED = 12


@dataclass(frozen=True, slots=True)
class SiteGlow:
    """`magnitude` the estimate overhead; "" where anything was measured. No picture where there is
    nothing to draw."""

    total: str
    strongest: str
    caution: str
    magnitude: str
    picture: SkylinePicture | None
    caption: str
    lines: list[TownLine]


def site_glow(site: Site, spots: Sequence[Spot]) -> SiteGlow:
    """Give what a site's page says of towns; over a level horizon where no spot is kept."""
    glow = glow_of(site)
    skyline = skyline_of_spot(spots[0]) if spots else LEVEL
    is_measured = local_sky(site).is_measured
    return SiteGlow(
        total=sum_words(glow),
        strongest=strongest_words(glow),
        caution=caution_words(),
        magnitude="" if is_measured else number_format(estimated_mag(site), 1),
        picture=_picture(site, glow, skyline) if glow.towns or site.sky_by_azimuth else None,
        caption=" ".join(_caption(site, spots, skyline)),
        lines=town_lines(glow, MOST_LISTED),
    )


def _picture(site: Site, glow: Glow, skyline: Skyline) -> SkylinePicture:
    sectors = _sectors(glow)
    return skyline_picture(
        skyline,
        landmarks=[_seen(town, glow, skyline, sectors) for town in _named(glow)],
        glow=sectors,
        figures=[
            Figure(azimuth % 360, RING_ALTITUDE_DEGREES, magnitudes(mag))
            for azimuth, mag in site.sky_by_azimuth
        ],
        compass=[str(point) for point in POINTS[::2]],
        south=site.latitude < 0,
        least_top=max([LEAST_TOP, *(glow_top(skyline, one) + STEP_DEGREES for one in sectors)]),
        title=_("The light of towns by direction, estimated"),
        description=" ".join(_description(site, glow, skyline)),
    )


def _caption(site: Site, spots: Sequence[Spot], skyline: Skyline) -> Iterator[str]:
    if skyline.is_level:
        yield _("Over a level horizon: nobody has measured the land.")
    else:
        yield _("Over the skyline of %(spot)s.") % {"spot": spots[0].name}
    yield _(
        "The taller and lighter, the more comes from there: a step up is about three times as much."
        " Only the land stands at its altitude; the height of the light says how much it is."
    )
    if site.sky_by_azimuth:
        yield _("The figures were measured, in mag/arcsec² 30° up.")


def _sectors(glow: Glow) -> list[Sector]:
    middles, shares = glow.by_azimuth(SECTOR_DEGREES)
    return [
        Sector(azimuth, SECTOR_DEGREES, steps_of(share))
        for azimuth, share in zip(middles.tolist(), shares.tolist(), strict=True)
    ]


def _named(glow: Glow) -> list[TownGlow]:
    """Give the towns worth a name in the picture; one around the site has no direction."""
    worth = [town for town in glow.towns if town.share >= LEAST_NAMED * glow.share]
    return [town for town in worth if not town.is_inside][:MOST_NAMED]


def _seen(town: TownGlow, glow: Glow, skyline: Skyline, sectors: Sequence[Sector]) -> Seen:
    sector = sectors[round(town.azimuth_degrees / SECTOR_DEGREES) % len(sectors)]
    words = f"{town.name} {share_of_glow(town, glow)}"
    return Seen(words, town.azimuth_degrees, glow_top(skyline, sector), None)


def _description(site: Site, glow: Glow, skyline: Skyline) -> Iterator[str]:
    """Say what the picture says."""
    yield f"{capfirst(skyline_words(skyline))}."
    yield from _by_direction(glow)
    for town in _named(glow):
        yield f"{capfirst(town_words(town, glow))}."
    for azimuth, mag in site.sky_by_azimuth:
        words = _("Measured 30° up toward %(point)s: %(magnitude)s mag/arcsec².")
        yield words % {"point": compass_point(azimuth), "magnitude": magnitudes(mag)}


def _by_direction(glow: Glow) -> Iterator[str]:
    """Give the shares of eight directions."""
    if not glow.towns:
        return
    _middles, shares = glow.by_azimuth(45.0)
    said = [
        f"{POINTS[2 * n]} {percent(share / glow.share)}" for n, share in enumerate(shares.tolist())
    ]
    yield _("Of the glow: %(directions)s.") % {"directions": ", ".join(said)}
