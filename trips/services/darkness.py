"""Deeds on the log of darkness: readings are added and removed, and the site follows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils.translation import gettext as _

from trips.almanac.local_time import clock
from trips.almanac.readings import Overhead, overhead, toward
from trips.almanac.wording import SkyError, sentence
from trips.models import DarknessReading, Site, User
from trips.services.editing import save_edited
from trips.services.sites import request_site
from trips.services.sky_in_force import FED, TYPED, bring_up, keep_typed

LOWEST, HIGHEST = 10.0, 23.0
# The zenith and eight directions around.
MOST_AT_ONCE = 9
# A clock that goes wrong by less is nobody's mistake.
FORWARD = timedelta(minutes=5)


@transaction.atomic
def add_readings(
    site: Site, readings: Sequence[DarknessReading], *, by: User | None, now: datetime
) -> None:
    """Put readings into the site's log, all or none; what depends on them is asked for again.

    Errors: `ValidationError` with a sentence for each that cannot be.
    """
    refused = [words for one in readings for words in refusals(site, one, now=now)]
    if refused:
        raise ValidationError(refused)
    kept = Site.objects.select_for_update().get(pk=site.pk)
    keep_typed(kept)
    for one in readings:
        one.site, one.by = kept, by
    DarknessReading.objects.bulk_create(readings)
    _follow(kept, by=by, now=now)


@transaction.atomic
def remove_reading(reading: DarknessReading, *, by: User | None, now: datetime) -> None:
    """Take a reading out of the log; without any the site is not measured."""
    kept = Site.objects.select_for_update().get(pk=reading.site_id)
    keep_typed(kept)
    reading.delete()
    _follow(kept, by=by, now=now)


def may_remove(reading: DarknessReading, user: User, *, coordinates: bool) -> bool:
    """Tell whether the person made the reading, or coordinates its club."""
    return coordinates or reading.by_id == user.pk


def refusals(site: Site, reading: DarknessReading, *, now: datetime) -> list[str]:
    """Say why a reading cannot be."""
    said = []
    if not LOWEST <= reading.magnitude <= HIGHEST:
        words = _("%(value).2f mag/arcsec² is no sky of a night: %(low)g to %(high)g are.")
        said.append(words % {"value": reading.magnitude, "low": LOWEST, "high": HIGHEST})
    if reading.at > now + FORWARD:
        return [*said, _("That moment is still to come: write when the reading was made.")]
    if reading.how == TYPED:  # its hour is not known
        return said
    try:
        above = overhead(site, reading.at)
    except SkyError as error:
        return [*said, sentence(error)]
    if above.is_day:
        words = _("At %(clock)s the Sun was up at %(site)s: look at date and time again.")
        said.append(words % {"clock": clock(reading.at, site.zone), "site": site.name})
    return said


def doubts(site: Site, readings: Sequence[DarknessReading]) -> list[str]:
    """Give a sentence for each thing to look at again; none of them keeps a reading out."""
    said = [words for one in readings for words in _magnitude_doubts(one)]
    by_moment = {(one.at, one.moon_up): one for one in readings if one.how != TYPED}
    for one in by_moment.values():
        said += _sky_doubts(one, overhead(site, one.at))
    return said


def _sky_doubts(one: DarknessReading, above: Overhead) -> Iterator[str]:
    if above.is_twilight:
        words = _(
            "The Sun was only %(degrees)d° down: twilight brightened the sky. The reading is kept, "
            "and the site’s darkness is not taken from it."
        )
        yield words % {"degrees": round(-above.sun_degrees)}
    if above.is_moon_up and not one.moon_up:
        words = _(
            "The Moon stood %(degrees)d° high, and it is not said that the Moon was up. The "
            "reading is kept, and the site’s darkness is not taken from it."
        )
        yield words % {"degrees": round(above.moon_degrees)}
    if one.moon_up and not above.is_moon_up:
        yield _("It is said that the Moon was up, but it was below the horizon.")


def _magnitude_doubts(one: DarknessReading) -> Iterator[str]:
    if FED[0] <= one.magnitude <= FED[1]:
        return
    words = (
        _(
            "%(value).2f toward the %(where)s: no clear sky is that dark; clouds over dark country "
            "or a covered meter read so. It is kept, and the site’s darkness not taken from it."
        )
        if one.magnitude > FED[1]
        else _(
            "%(value).2f toward the %(where)s: as bright as under lamps. It is kept, and the "
            "site’s darkness not taken from it."
        )
    )
    yield words % {"where": toward(one.azimuth_degrees), "value": one.magnitude}


def _follow(site: Site, *, by: User | None, now: datetime) -> None:
    """Save what the log says of the site; nights and windows that it changes are asked for."""
    if bring_up(site):
        save_edited(site)
        request_site(site, by=by, now=now)
