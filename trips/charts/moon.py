"""The Moon's disc as it stands in the sky: a circle and its lit part."""

from __future__ import annotations

from functools import lru_cache

from django.utils.html import escape

SIZE_PX = 12
RADIUS = 5.5  # of a disc drawn in 12 units, so that its rim stays inside


def moon_disc(
    lit: float,
    waxing: bool,
    *,
    south: bool = False,
    size: float | None = SIZE_PX,
    label: str = "",
) -> str:
    """Draw the disc with `lit` (0–1) of it lit, in whole percents.

    North of the equator a waxing Moon is lit on the right, south of it on the left. `size` None
    leaves the size to the style sheet. Without a `label` the disc says nothing to a screen reader:
    words must stand beside it.
    """
    shape = _shape(round(lit * 100), waxing != south)
    sized = f' width="{size:g}" height="{size:g}"' if size else ""
    said = f'role="img" aria-label="{escape(label)}"' if label else 'aria-hidden="true"'
    return f'<svg class="disc"{sized} viewBox="-6 -6 12 12" {said}>{shape}</svg>'


def lit_path(percent: int, lit_right: bool, radius: float = RADIUS) -> str:
    """Give the outline of the lit part, centred on 0, 0; empty when nothing is lit.

    Half the limb from pole to pole, and back along the terminator: half an ellipse whose other
    semi-axis is radius × |2 × lit − 1|, so that the area is the lit fraction of the disc. The
    terminator bends toward the lit limb of a crescent and away from that of a gibbous Moon.
    """
    if percent <= 0:
        return ""
    across = radius * abs(2 * percent / 100 - 1)
    limb = int(lit_right)
    back = limb if percent > 50 else 1 - limb
    tall = f"{2 * radius:g}"
    return (
        f"M0-{radius:g}a{radius:g} {radius:g} 0 0 {limb} 0 {tall}"
        f"a{across:.3g} {radius:g} 0 0 {back} 0-{tall}"
    )


@lru_cache(maxsize=202)
def _shape(percent: int, lit_right: bool) -> str:
    path = lit_path(percent, lit_right)
    return f'<circle r="{RADIUS}"/>' + (f'<path d="{path}"/>' if path else "")
