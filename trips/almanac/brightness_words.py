"""The sky's brightness in a night in words: figures are localised, these are read."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from django.utils.formats import number_format
from django.utils.text import get_text_list
from django.utils.translation import gettext as _

from trips.almanac.local_time import clock
from trips.almanac.sky_brightness import LightLine, Pair, Parts

# Less is nothing: the sky's own moods are greater.
LEAST_MAG = 0.05


def tenths(mag: float) -> str:
    return number_format(round(mag, 1), 1).replace("-", "−")  # of itself it would cut


def made_of(best: Parts) -> str:
    """Take a sky apart: "21.3 by nature, 0.1 mag brighter for skyglow, 2.1 for the Moon"."""
    natural = _("%(sky)s by nature") % {"sky": tenths(best.natural_mag)}
    taken = [
        words % {"mag": tenths(mag)}
        for mag, words in (
            (best.glow_mag, _("%(mag)s for skyglow")),
            (best.moon_mag, _("%(mag)s for the Moon")),
            (best.twilight_mag, _("%(mag)s for twilight")),
        )
        if mag >= LEAST_MAG
    ]
    if not taken:
        return _("%(natural)s, and nothing brightens it") % {"natural": natural}
    more = get_text_list(taken, _("and"))
    return _("%(natural)s; brighter by %(more)s") % {"natural": natural, "more": more}


def overhead_words(best: Parts, darkest: Pair, zone: str) -> str:
    """Say when the zenith is darkest, and how dark."""
    start, end = (clock(edge, zone) for edge in darkest)
    when = start if start == end else f"{start}–{end}"
    words = _("darkest %(when)s, %(sky)s\u00a0mag/arcsec², stars to\u00a0%(star)s")
    return words % (_figures(best, zone) | {"when": when})


def best_words(best: Parts, zone: str) -> str:
    """Say how bright the sky is toward a target at its best moment."""
    return _("at its best, %(time)s, %(sky)s\u00a0mag/arcsec², stars to\u00a0%(star)s") % _figures(
        best, zone
    )


def _figures(best: Parts, zone: str) -> dict[str, str]:
    return {
        "time": clock(best.at, zone),
        "sky": tenths(best.sky_mag),
        "star": tenths(best.faintest_star),
    }


def usable_words(usable: Sequence[Pair] | None, zone: str) -> str:
    """Say when Moon and twilight take little enough of the sky; None: nothing dark is wanted."""
    if usable is None:
        return _("wanted in a light that needs no dark")
    if not usable:
        return _("at no time usable")
    spans = [f"{clock(start, zone)}–{clock(end, zone)}" for start, end in usable]
    return _("usable %(when)s") % {"when": get_text_list(spans, _("and"))}


def range_sentence(line: LightLine) -> str:
    """Say between what values a line goes, for whom the picture cannot be seen."""
    low, high = float(np.min(line.magnitudes)), float(np.max(line.magnitudes))
    return _("Overhead it goes from %(bright)s to %(dark)s\u00a0mag/arcsec².") % {
        "bright": tenths(low),
        "dark": tenths(high),
    }
