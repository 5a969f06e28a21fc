"""Deeds on spots: a spot is saved with its skyline, landmarks and hazards, or not at all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Generic, TypeVar

from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import Max
from django.utils.translation import gettext as _

from trips.almanac.skyline_words import hidden_words
from trips.almanac.spots import bearing_from, km_from_site, place_of_spot, skyline_of_spot
from trips.models import Hazard, Landmark, Site, Spot, User
from trips.services import target_windows
from trips.services.editing import save_edited

# Farther than this a spot is another place: common practice, no published source.
FAR_KM = 20.0
# A landmark and a skyline keep their directions within half a degree when the spot moves by less
# than this at 2 km.
MOVED_M = 20.0

RowT = TypeVar("RowT", Landmark, Hazard)


@dataclass(frozen=True, slots=True)
class Changes(Generic[RowT]):
    """Rows of a spot that are new or changed, and rows that are taken off."""

    kept: Sequence[RowT] = ()
    dropped: Sequence[RowT] = ()


@transaction.atomic
def save_spot(
    spot: Spot,
    *,
    landmarks: Changes[Landmark] = Changes(),
    hazards: Changes[Hazard] = Changes(),
    by: User | None,
    now: datetime,
) -> None:
    """Save the spot with what was changed of its landmarks and hazards.

    A new spot comes after the others of its site. Landmarks typed by their position are aimed at
    from where the spot now is. Windows that depended on what was edited are asked for again.
    Errors: `SkyError` for a position or a skyline that cannot be, `ValidationError` for a row of
    another spot, `EditedMeanwhileError`.
    """
    place_of_spot(spot)
    skyline_of_spot(spot)
    _refuse_foreign(landmarks, spot)
    _refuse_foreign(hazards, spot)
    if spot.pk is None:
        spot.order = _after_others(spot.site)
        spot.save()
    else:
        save_edited(spot)
    _save(landmarks, spot)
    _save(hazards, spot)
    _aim(spot)
    target_windows.request_site(spot.site, by=by, now=now)


@transaction.atomic
def put_first(spot: Spot) -> None:
    """Judge the site's seasons from this spot: it comes before the others."""
    others = spot.site.spots.select_for_update().exclude(pk=spot.pk)
    for order, one in enumerate([spot, *others]):
        Spot.objects.filter(pk=one.pk).update(order=order)
    spot.order = 0


@transaction.atomic
def archive_spot(spot: Spot, *, by: User | None, now: datetime) -> None:
    """Take the spot out of the lists; what it was is kept. Errors: `EditedMeanwhileError`.

    A site without any other spot is a point with a level horizon again, and has windows as such.
    """
    spot.archived_at = now
    save_edited(spot)
    target_windows.request_site(spot.site, by=by, now=now)


def spots_of(site: Site) -> list[Spot]:
    """Give the site's spots, the one that its seasons are judged from first."""
    return list(site.spots.current())


def doubts(spot: Spot, before: Spot | None) -> list[str]:
    """Give a sentence for each thing that a person should look at again after saving."""
    said = []
    distance = km_from_site(spot)
    if distance > FAR_KM:
        words = _("The spot lies %(km)d km from %(site)s: look at its position again.")
        said.append(words % {"km": round(distance), "site": spot.site.name})
    if before and _has_moved(spot, before) and (spot.skyline or _typed_by_azimuth(spot)):
        said.append(
            _(
                "The spot moved. Its skyline, and landmarks typed by their azimuth, are still as "
                "seen from the old place."
            )
        )
    if hidden := hidden_words(skyline_of_spot(spot), spot.landmarks.all()):
        said.append(hidden)
    return said


def _has_moved(spot: Spot, before: Spot) -> bool:
    return bearing_from(before, spot.latitude, spot.longitude).distance_m > MOVED_M


def _typed_by_azimuth(spot: Spot) -> bool:
    return spot.landmarks.filter(latitude=None).exists()


def _after_others(site: Site) -> int:
    last = site.spots.aggregate(last=Max("order"))["last"]
    return 0 if last is None else last + 1


def _refuse_foreign(changes: Changes[RowT], spot: Spot) -> None:
    """Refuse a row that is stored with another spot, whoever's that is."""
    for row in (*changes.kept, *changes.dropped):
        if row.pk is None:
            continue
        if not _is_of(row, spot):
            raise ValidationError(_("“%(row)s” belongs to another spot.") % {"row": row})


def _is_of(row: Landmark | Hazard, spot: Spot) -> bool:
    if spot.pk is None:
        return False
    return type(row)._default_manager.filter(pk=row.pk, spot=spot).exists()


def _save(changes: Changes[RowT], spot: Spot) -> None:
    for row in changes.kept:
        row.spot = spot
        if isinstance(row, Hazard):
            row.site = spot.site
        row.save()
    for row in changes.dropped:
        row.delete()


def _aim(spot: Spot) -> None:
    """Give landmarks that have a position their direction and distance from the spot."""
    for landmark in spot.landmarks.exclude(latitude=None).exclude(longitude=None):
        if landmark.latitude is not None and landmark.longitude is not None:
            found = bearing_from(spot, landmark.latitude, landmark.longitude)
            landmark.azimuth_degrees = round(found.azimuth_degrees, 3)
            landmark.distance_m = max(1.0, round(found.distance_m, 1))
            landmark.save(update_fields=["azimuth_degrees", "distance_m"])
