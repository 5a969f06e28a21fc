"""The pole stars against their catalogue, ERFA's precession and Skyfield.

I01–I03: separations of Polaris from the pole. Referees elsewhere: ERFA, and Skyfield 1.55 with an
observer whose own motion (0.3″ of aberration) ours leaves out.
"""

from __future__ import annotations

from datetime import UTC, date, datetime

import erfa
import numpy as np
import pytest
from skyfield.api import Star

from sky.apparent import unit_vectors
from sky.ephemeris import timescale
from sky.place import Place
from sky.tracker import POLARIS, SIGMA_OCTANTIS, CatalogueStar, pole_set_up, position_of_date
from tests.against import skyfield_search as referee
from tests.against.published import row

J2000_JD, EPOCH_JD = 2_451_545.0, 2_448_349.0625
NORTH, SOUTH = Place(40.4, -1.1, 1600), Place(-44.0, 170.5, 700)


def from_the_mean_pole(year: float) -> float:
    """Give how far Polaris is from the mean pole of a year's start, in arcminutes."""
    days = (year - 2000.0) * 365.25
    vector = unit_vectors([position_of_date(POLARIS, days * 86_400.0)])[0]
    x, y, z = erfa.pmat06(J2000_JD, days) @ vector
    return float(np.degrees(np.arctan2(np.hypot(x, y), z)) * 60)


def test_polaris_closes_in_on_the_mean_pole_as_its_catalogue_says() -> None:
    case = row("tracker", "I01")
    for year, expected in case["expected"].items():
        assert from_the_mean_pole(float(year)) == pytest.approx(expected, abs=case["tolerance"])


def test_polaris_comes_closest_at_the_start_of_the_next_century() -> None:
    case = row("tracker", "I03")
    first, last = case["inputs"]["years"]
    years = np.arange(first, last, 0.25)
    apart = [from_the_mean_pole(float(year)) for year in years]
    closest = int(np.argmin(apart))
    assert years[closest] == pytest.approx(case["expected"]["year"], abs=case["tolerance"]["year"])
    assert apart[closest] == pytest.approx(
        case["expected"]["separation_arcminutes"], abs=case["tolerance"]["separation_arcminutes"]
    )


def test_polaris_wobbles_beside_the_true_pole() -> None:
    case = row("tracker", "I02")
    for day, expected in case["expected"].items():
        midnight = datetime.combine(date.fromisoformat(day), datetime.min.time(), UTC)
        ours = pole_set_up(NORTH, [midnight])[0].separation_arcminutes
        assert ours == pytest.approx(expected, abs=case["tolerance"])


@pytest.mark.parametrize(
    ("place", "star"), [(NORTH, POLARIS), (SOUTH, SIGMA_OCTANTIS), (Place(78, 16), POLARIS)]
)
@pytest.mark.parametrize("instant", [datetime(2027, 7, 1, 10, tzinfo=UTC),
                                     datetime(2049, 12, 3, 22, tzinfo=UTC)])  # fmt: skip
def test_the_pole_star_stands_where_skyfield_has_it(
    place: Place, star: CatalogueStar, instant: datetime
) -> None:
    theirs = Star(
        ra_hours=star.ra_degrees / 15,
        dec_degrees=star.dec_degrees,
        ra_mas_per_year=star.east_mas,
        dec_mas_per_year=star.north_mas,
        epoch=EPOCH_JD,
    )
    with referee.kernel() as kernel:
        seen_from = referee.observer(kernel, place).at(timescale().from_datetime(instant))
        hour_angle, declination, _ = seen_from.observe(theirs).apparent().hadec()
    ours = pole_set_up(place, [instant])[0]
    separation = (90 - abs(declination.degrees)) * 60
    assert ours.separation_arcminutes == pytest.approx(separation, abs=0.01)
    apart = (ours.hour_angle_degrees - hour_angle.hours * 15 + 180) % 360 - 180
    # Beside the pole an angle is wide and a path short: 0.01′ is 0.015° at 40′.
    assert abs(apart) < 0.02
