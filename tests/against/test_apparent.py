"""Where stars are seen against Astropy and the books: refraction, airmass, separation.

Astropy's place has polar motion and diurnal aberration, 0.7″ at most, which ours leaves out.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest

from sky.apparent import directions_toward
from sky.close_pairs import separation_of
from sky.directions import Directions, refraction_degrees
from sky.light.airmass import airmass
from sky.place import Place
from sky.targets.target import FixedPoint
from tests.against.astropy_sky import Sky, alone
from tests.against.published import row

ARCSECOND = 1 / 3600
ALLOWED = 0.8 * ARCSECOND
DAY = 86_400.0
PLACES = [
    pytest.param(Place(40.4, -1.1, 1600), id="40 north at 1600 m"),
    pytest.param(Place(-29.0, 150.0), id="29 south"),
    pytest.param(Place(78.2, 15.6), id="78 north"),
]


@pytest.fixture(autouse=True)
def _alone() -> Iterator[None]:
    with alone():
        yield


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("start", [4e8, 1.8e9, 2.5e9])
def test_stars_stand_where_astropy_sees_them(place: Place, start: float) -> None:
    rng, unix = np.random.default_rng(5), start + np.linspace(0, 40 * DAY, 300)
    sky = Sky(place, start, start + 40 * DAY)
    for ra, sine in zip(rng.uniform(0, 360, 4), rng.uniform(-1, 1, 4), strict=True):
        dec = float(np.degrees(np.arcsin(sine)))
        seen, track = directions_toward(FixedPoint(ra, dec), place, unix), sky.star(ra, dec)
        theirs, azimuth, _ = track.geometric(unix)
        assert np.abs(seen.altitude_geometric_degrees - theirs).max() < ALLOWED
        aside = np.abs((seen.azimuth_degrees - azimuth + 180) % 360 - 180)
        assert (aside * np.cos(np.radians(theirs))).max() < ALLOWED
        assert np.abs(seen.altitude_degrees - track.apparent(unix)[0]).max() < 2 * ALLOWED


def test_refraction_is_near_bennett_s() -> None:
    """C01: from an apparent altitude down to the true one by Bennett, and up again by ours."""
    published = row("apparent", "C01")
    lifted = np.array(published["expected"])
    true = np.array(published["inputs"]["altitude_apparent_degrees"]) - lifted / 60
    ours = refraction_degrees(true, 0.0) * 60
    assert ours == pytest.approx(lifted, abs=published["tolerance"])


def test_airmass_is_that_of_kasten_and_young() -> None:
    """C05."""
    published = row("apparent", "C05")
    ours = airmass(np.array(published["inputs"]["altitude_apparent_degrees"]))
    assert ours == pytest.approx(published["expected"], abs=published["tolerance"])


def test_arcturus_and_spica_are_as_far_apart_as_the_book_says() -> None:
    """A08: the formula asks no frame, so right ascension and declination do."""
    published = row("apparent", "A08")
    dec, ra = (np.array(published["inputs"][key]) for key in ("dec_degrees", "ra_degrees"))
    one, other = (Directions(dec[n : n + 1], dec[n : n + 1], ra[n : n + 1]) for n in (0, 1))
    found = separation_of(one, other)[0]
    assert found == pytest.approx(published["expected"], abs=published["tolerance"])
