"""Where a compass needle points: magnetic declination by the World Magnetic Model.

A model holds for five years and no longer: the field drifts in ways that nobody foretells.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any, Literal

from pygeomag import GeoMag
from pygeomag.wmm.wmm_2010 import WMM_2010
from pygeomag.wmm.wmm_2015v2 import WMM_2015v2
from pygeomag.wmm.wmm_2020 import WMM_2020
from pygeomag.wmm.wmm_2025 import WMM_2025

from sky.errors import SkyError
from sky.place import Place

Trust = Literal["usual", "caution", "blackout"]

# By the first year of its five. Of 2015's the second edition: the pole had run away from the first.
MODELS: dict[int, Any] = {2010: WMM_2010, 2015: WMM_2015v2, 2020: WMM_2020, 2025: WMM_2025}
YEARS_OF_A_MODEL = 5
FIRST_DAY = date(min(MODELS), 1, 1)
LAST_DAY = date(max(MODELS) + YEARS_OF_A_MODEL - 1, 12, 31)
# The first year for which the models state how far off they are.
FIRST_WITH_UNCERTAINTY = 2015
# Horizontal intensity in nT under which a needle is told to be slow, and under which useless: the
# zones of the WMM's technical report (from memory; and as pygeomag 1.1's own pages say).
CAUTION_NT, BLACKOUT_NT = 6000.0, 2000.0


@dataclass(frozen=True, slots=True)
class Declination:
    """How far a needle points from true north, and how far to trust it.

    `degrees` −180 to 180, east positive; `uncertainty_degrees` the model's standard error, None
    where it states none; `horizontal_nt` the pull that turns a needle. `trust`: `caution` under
    6 000 nT, `blackout` under 2 000 nT, near the magnetic poles. `model` as its makers write it
    ("WMM2025"), valid through `last_day`.
    """

    degrees: float
    uncertainty_degrees: float | None
    horizontal_nt: float
    trust: Trust
    model: str
    first_day: date
    last_day: date


def declination_at(place: Place, day: date) -> Declination:
    """Give the declination at a place on a day, by the model that was made for it.

    The model knows nothing of iron in rocks, cars and tripods, which move a needle by more.
    Errors: `magnetic_model_expired` past the last model (with its name and last day),
    `magnetic_model_missing` before the first.
    Source: NOAA/BGS, The World Magnetic Model, through pygeomag.
    """
    first = _model_of(day)
    model = GeoMag(coefficients_data=MODELS[first])
    found = model.calculate(
        glat=place.latitude,
        glon=place.longitude,
        alt=place.elevation_m / 1000,
        time=_decimal_year(day),
    )
    known = first >= FIRST_WITH_UNCERTAINTY
    return Declination(
        degrees=float(found.d),
        uncertainty_degrees=float(found.calculate_uncertainty().d) if known else None,
        horizontal_nt=float(found.h),
        trust=_trust(found.h),
        model=_name(model),
        first_day=date(first, 1, 1),
        last_day=date(first + YEARS_OF_A_MODEL - 1, 12, 31),
    )


def _model_of(day: date) -> int:
    """Give the first year of the model that holds on a day."""
    if day > LAST_DAY:
        newest = _name(GeoMag(coefficients_data=MODELS[max(MODELS)]))
        raise SkyError("magnetic_model_expired", date=day, model=newest, last_day=LAST_DAY)
    if day < FIRST_DAY:
        raise SkyError("magnetic_model_missing", date=day, first_day=FIRST_DAY)
    return max(first for first in MODELS if first <= day.year)


def _name(model: Any) -> str:
    return str(model.model).replace("-", "")


def _decimal_year(day: date) -> float:
    start, end = date(day.year, 1, 1), date(day.year + 1, 1, 1)
    return day.year + (day - start).days / (end - start).days


def _trust(horizontal_nt: float) -> Trust:
    if horizontal_nt < BLACKOUT_NT:
        return "blackout"
    return "caution" if horizontal_nt < CAUTION_NT else "usual"
