"""Addresses drawn for a phone to read. Checked against ISO/IEC 18004: a quiet zone of 4 modules."""

from __future__ import annotations

import re

from trips.services.qr import qr_svg


def test_it_is_dark_on_light_with_its_quiet_zone_whatever_the_look() -> None:
    drawn = qr_svg("https://nights.example/join/1")
    assert 'fill="#fff"' in drawn
    assert 'stroke="#000"' in drawn
    # The first finder pattern begins after four light modules, at the middle of the fifth row.
    assert re.search(r'd="M4 4\.5h7', drawn)


def test_two_addresses_are_two_drawings() -> None:
    assert qr_svg("https://nights.example/a") != qr_svg("https://nights.example/b")


def test_nothing_in_it_is_style_or_script() -> None:
    drawn = qr_svg("https://nights.example/a?<script>")
    assert "style=" not in drawn
    assert "<script" not in drawn
