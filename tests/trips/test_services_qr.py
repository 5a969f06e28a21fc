"""Addresses drawn for a phone to read. Checked against ISO/IEC 18004 and read by zxing-cpp."""

from __future__ import annotations

import re

import pytest

from tests.trips.qr_read import qr_read
from trips.services.qr import qr_svg

ADDRESSES = (
    "https://nights.example/join/1",
    "http://127.0.0.1:8000/b/m1zoB0_DWh-Oblnsw93OfA/",
    "https://nights.example/a?<script>&b=2",
    "https://nights.example/" + "long" * 100,
)


@pytest.mark.parametrize("address", ADDRESSES)
def test_a_phone_reads_the_address_from_it(address: str) -> None:
    assert qr_read(qr_svg(address, name="Your page")) == address


def test_it_is_dark_on_light_with_its_quiet_zone_whatever_the_look() -> None:
    drawn = qr_svg("https://nights.example/join/1", name="Your page")
    assert 'fill="#fff"' in drawn
    assert 'stroke="#000"' in drawn
    # The first finder pattern begins after four light modules, at the middle of the fifth row.
    assert re.search(r'd="M4 4\.5h7', drawn)


def test_it_is_named_for_who_cannot_see_it() -> None:
    drawn = qr_svg("https://nights.example/a", name='Ann\'s "page"')
    assert drawn.startswith('<svg role="img" aria-label="Ann&#x27;s &quot;page&quot;"')


def test_nothing_in_it_is_style_or_script() -> None:
    drawn = qr_svg("https://nights.example/a?<script>", name="</svg><script>")
    assert "style=" not in drawn
    assert "<script" not in drawn
