"""What of a site's log of darkness is in force: the sky that the site is taken to have.

A reading with the Moon up, said or computed, with snow, or in twilight is kept and shown and never
in force; nor is one outside `FED`, which clouds or a covered meter make. Of the others the newest
at the zenith counts, and of the newest night with any, the newest toward each direction.

What somebody typed in the site's own form stands until the log changes, and is then a reading of
the log itself, of its date (`keep_typed`): it is in force again when newer ones are removed.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from trips.almanac.local_time import clock
from trips.almanac.readings import night_holding, noon_of, overhead
from trips.models import DarknessReading, Site

TYPED = DarknessReading.How.TYPED
# As the site's form takes them. No clear sky on the Earth is darker.
FED = (14.0, 22.5)


@dataclass(frozen=True, slots=True)
class InForce:
    zenith: DarknessReading | None
    ring: tuple[DarknessReading, ...]

    @property
    def keys(self) -> set[int]:
        return {one.pk for one in (*self.ring, self.zenith) if one is not None}

    @property
    def pairs(self) -> list[list[float]]:
        """The ring as a site keeps it: [azimuth, mag/arcsec²], ascending."""
        return [[one.azimuth_degrees % 360, one.magnitude] for one in self.ring
                if one.azimuth_degrees is not None]  # fmt: skip

    def explains(self, site: Site) -> bool:
        """Tell whether the site says at the zenith what is in force: else somebody typed it."""
        one = self.zenith
        if one is None:
            return site.sky_brightness is None
        said = (site.sky_brightness, site.sky_measured_on)
        return said == (one.magnitude, night_holding(one.at, site.zone))


def in_force(site: Site, readings: Iterable[DarknessReading]) -> InForce:
    """Find what is in force among readings, given newest first."""
    zenith: DarknessReading | None = None
    ring: dict[float, DarknessReading] = {}
    outing: date | None = None
    for one in readings:
        night = night_holding(one.at, site.zone)
        is_wanted = zenith is None if one.azimuth_degrees is None else outing in (None, night)
        if not is_wanted or not is_fed(site, one):
            continue
        if one.azimuth_degrees is None:
            zenith = one
        else:
            outing = night
            ring.setdefault(one.azimuth_degrees % 360, one)
    return InForce(zenith, tuple(ring[azimuth] for azimuth in sorted(ring)))


def is_fed(site: Site, reading: DarknessReading) -> bool:
    if reading.moon_up or reading.snow or not FED[0] <= reading.magnitude <= FED[1]:
        return False
    return reading.how == TYPED or overhead(site, reading.at).is_dark


def bring_up(site: Site) -> bool:
    """Set the site's columns from its log, unsaved; tell whether that changed any.

    Circumstances that somebody put otherwise in the form stay with the value that they are of.
    """
    found = in_force(site, site.darkness_readings.all())
    is_same = found.explains(site)
    if is_same and site.sky_by_azimuth == found.pairs:
        return False
    if not is_same:
        one = found.zenith
        site.sky_brightness = one.magnitude if one else None
        site.sky_measured_on = night_holding(one.at, site.zone) if one else None
        site.sky_circumstances = circumstances(one, site.zone) if one else ""
    site.sky_by_azimuth = found.pairs
    return True


def keep_typed(site: Site) -> None:
    """Put what the site says and the log does not into the log, before the log changes.

    Errors: `ValidationError` where a typed value has no date.
    """
    found = in_force(site, site.darkness_readings.all())
    if site.sky_brightness is None or found.explains(site):
        return
    if site.sky_measured_on is None:
        words = _(
            "The brightness in the site’s form has no date: write there when it was measured, so "
            "that the log can keep it."
        )
        raise ValidationError(words)
    DarknessReading.objects.create(
        site=site,
        at=noon_of(site.sky_measured_on, site.zone),
        magnitude=site.sky_brightness,
        how=TYPED,
        note=site.sky_circumstances,
    )


def circumstances(reading: DarknessReading, zone: str) -> str:
    """Say in the site's own line how the reading in force was made."""
    if reading.how == TYPED:
        return reading.note
    said = [clock(reading.at, zone), _("no Moon")]
    if reading.milky_way_overhead:
        said.append(_("Milky Way overhead"))
    said.append(str(DarknessReading.How(reading.how).label))
    if reading.note:
        said.append(reading.note)
    longest = Site._meta.get_field("sky_circumstances").max_length or 0
    words = ", ".join(said)
    return words if len(words) <= longest else f"{words[: longest - 1]}…"
