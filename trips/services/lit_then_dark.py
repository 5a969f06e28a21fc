"""Nights that are lit, then dark, while people are out; and which of them are offered.

Reads rows and changes none; the sky is computed when it is asked for.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from trips.almanac.lit_then_dark import (
    USUAL_LIGHT,
    FaceNight,
    FaceNights,
    FaceSeason,
    SideLight,
)
from trips.almanac.windows import known
from trips.models import Landmark, Night, Season, Spot, TargetEntry
from trips.planning.hours_out import Evening, hours_out
from trips.planning.nights import Wishes
from trips.planning.offered import why_not


@dataclass(frozen=True, slots=True)
class JudgedNight:
    """`why_not` is a code of `offered.why_not`; None where the evening is offered."""

    night: FaceNight
    why_not: str | None

    @property
    def dark_seconds(self) -> float:
        start, end = self.night.found.dark
        return end - start


@dataclass(frozen=True, slots=True)
class LitAndDarkNights:
    """The nights in order, and in how many there is one of the two while people are out."""

    nights: tuple[JudgedNight, ...]
    lit_count: int
    dark_count: int


@dataclass(frozen=True, slots=True)
class Tonight:
    """What a single night has: which face, and dark with which target of the list, if any."""

    night: FaceNight
    landmark: Landmark
    entry: TargetEntry | None


def lit_and_dark_nights(
    spot: Spot,
    landmark: Landmark,
    season: Season,
    entry: TargetEntry | None,
    *,
    light: SideLight = USUAL_LIGHT,
) -> LitAndDarkNights:
    """Find the nights of a season; without an entry the moonless dark alone counts.

    The landmark has a face. Errors: those of FaceSeason and of its `lit`.
    """
    whole = FaceSeason(spot, season.first_night, season.last_night)
    wishes, zone = Wishes.of(season), spot.site.zone
    evenings = [Evening(day, dusk) for day, dusk in whole.evenings().items()]
    face = _face(landmark)
    found: FaceNights = whole.nights(
        face,
        whole.lit(face, light),
        whole.dark(entry, season.dark_level),
        [hours_out(evening, wishes, zone) for evening in evenings],
    )
    return LitAndDarkNights(
        tuple(JudgedNight(one, why_not(spot.site, wishes, one.night)) for one in found.nights),
        found.lit_count,
        found.dark_count,
    )


def best_first(nights: Iterable[JudgedNight]) -> list[JudgedNight]:
    """Put the longest dark first, the evenings that are not offered last."""
    return sorted(nights, key=lambda one: (one.why_not is not None, -one.dark_seconds))


def tonight(
    row: Night, spot: Spot, season: Season, entries: Iterable[TargetEntry]
) -> Tonight | None:
    """Give what a night has: the first face with the target that counts most, if any has.

    `entries` are the season's; without any the moonless dark counts.
    """
    faces = [one for one in spot.landmarks.all() if one.face_degrees is not None]
    if not faces:
        return None
    whole = FaceSeason(spot, row.date, row.date)
    hours = [hours_out(row, Wishes.of(season), spot.site.zone)]
    lit = [(face, spans) for face in faces if len(spans := whole.lit(_face(face)))]
    if not lit:
        return None
    wanted: list[TargetEntry | None] = [*sorted(known(entries), key=lambda one: -one.weight)]
    for entry in wanted or [None]:
        dark = whole.dark(entry, season.dark_level)
        for landmark, spans in lit:
            for night in whole.nights(_face(landmark), spans, dark, hours).nights:
                return Tonight(night, landmark, entry)
    return None


def _face(landmark: Landmark) -> float:
    if landmark.face_degrees is None:
        raise ValueError(landmark)
    return landmark.face_degrees
