"""The drawn band of the Milky Way: tone inside tone, once around, on galactic latitudes."""

from __future__ import annotations

import numpy as np
import pytest

from sky.band import EDGES, LANE_FROM_DEGREES, LANE_TO_DEGREES, edge_vectors, edges
from sky.galactic import to_galactic


def test_the_lane_lies_in_the_bright_tone_and_that_in_the_faint_one() -> None:
    found = edges()
    south, north = (
        np.stack([tone[side] for tone in (found.faint, found.bright, found.lane)])
        for side in (0, 1)
    )
    assert (np.diff(south, axis=0) > 0).all()
    assert (np.diff(north, axis=0) < 0).all()


def test_the_lane_is_open_between_its_ends_and_nowhere_else() -> None:
    found = edges()
    inside = (found.longitudes > LANE_FROM_DEGREES) & (found.longitudes < LANE_TO_DEGREES)
    south, north = found.lane
    assert (north > south)[inside].all()
    assert north[~inside] == pytest.approx(south[~inside])


def test_the_edges_go_once_around_and_end_where_they_began() -> None:
    found = edge_vectors()
    assert found.shape == (len(EDGES), len(edges().longitudes), 3)
    assert found[:, 0] == pytest.approx(found[:, -1])
    assert np.linalg.norm(found, axis=-1) == pytest.approx(1)


def test_the_edges_are_where_their_galactic_latitudes_put_them() -> None:
    latitudes = np.degrees(np.arcsin(to_galactic(edge_vectors().reshape(-1, 3))[:, 2]))
    by_edge = dict(zip(EDGES, latitudes.reshape(len(EDGES), -1), strict=True))
    assert by_edge["equator"] == pytest.approx(0, abs=1e-9)
    assert by_edge["faint_north"] == pytest.approx(edges().faint[1])
    assert by_edge["lane_south"] == pytest.approx(edges().lane[0])
