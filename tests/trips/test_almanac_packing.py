"""Windows as bytes: what goes in comes out, to the last bit."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from sky.windows import Windows
from trips.almanac.packing import pack_bests, pack_spans, unpack_bests, unpack_spans

doubles = st.floats(allow_nan=False, allow_infinity=False)


def windows(values: list[float]) -> Windows:
    """Make windows of as many nights as there are values."""
    column, night = np.array(values), np.arange(len(values))
    spans = np.stack((column, column + 1), axis=1).reshape(-1, 2)
    return Windows(spans, night, night, column, column + 2, column + 3, column + 4)


@given(st.lists(doubles, max_size=20))
def test_spans_and_bests_come_back_as_they_were(values: list[float]) -> None:
    packed = windows(values)
    bests = unpack_bests(pack_bests(packed))
    assert np.array_equal(unpack_spans(pack_spans(packed)), packed.spans)
    assert np.array_equal(bests.at, packed.best_at)
    assert np.array_equal(bests.altitude, packed.best_altitude)
    assert np.array_equal(bests.altitude_geometric, packed.best_altitude_geometric)
    assert np.array_equal(bests.azimuth, packed.best_azimuth)


def test_no_windows_take_no_bytes_and_come_back_as_none() -> None:
    none = windows([])
    assert pack_spans(none) == pack_bests(none) == b""
    assert unpack_spans(b"").shape == (0, 2)
    assert len(unpack_bests(b"").at) == 0


def test_a_view_of_bytes_is_read_as_the_bytes_are() -> None:
    packed = pack_spans(windows([1.0, 5.0]))
    assert unpack_spans(memoryview(packed)).tolist() == [[1, 2], [5, 6]]


def test_bytes_are_little_endian_doubles_on_every_machine() -> None:
    assert pack_spans(windows([1.0]))[:8].hex() == "000000000000f03f"
