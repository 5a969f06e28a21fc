"""An address as a square that a phone reads from a screen or from paper."""

from __future__ import annotations

import io

import segno
from django.utils.html import format_html

QUIET_MODULES = 4  # ISO/IEC 18004: the margin that readers need


def qr_svg(text: str, *, name: str) -> str:
    """Draw it as SVG, dark on light in every look: `.qr` in the style sheets leaves it so.

    `name` is what the square is said to be to who cannot see it.
    """
    out = io.BytesIO()
    segno.make(text, error="m", micro=False).save(
        out, kind="svg", border=QUIET_MODULES, xmldecl=False, svgns=True, omitsize=True,
        dark="#000", light="#fff", svgclass="qr", lineclass=None, nl=False,
    )  # fmt: skip
    named = format_html('<svg role="img" aria-label="{}" ', name)
    return out.getvalue().decode().replace("<svg ", named, 1)
