"""The sky's brightness in a night in words: figures are localised, these are read."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from django.utils.formats import number_format
from django.utils.text import get_text_list
from django.utils.translation import gettext as _

from trips.almanac.local_time import clock
from trips.almanac.sky_brightness import LightLine, NightLight, Pair, Parts

# Less is nothing: the sky's own moods are greater.
LEAST_MAG = 0.05


def tenths(mag: float) -> str:
    return number_format(mag, 1)


def brighter(mag: float) -> str:
    """Give "2.1 mag brighter", or that it is nothing."""
    if mag < LEAST_MAG:
        return _("nothing")
    return _("%(mag)s mag brighter") % {"mag": tenths(mag)}


def overhead_sentences(light: NightLight, usable: Sequence[Pair], zone: str) -> Iterator[str]:
    """Say when the zenith is darkest, when it is usable, and what the Moon does to it."""
    yield _("Overhead the sky is darkest at %(time)s: %(sky)s mag/arcsec², stars to %(star)s.") % {
        "time": clock(light.overhead.best.at, zone),
        "sky": tenths(light.overhead.best.sky_mag),
        "star": tenths(light.overhead.best.faintest_star),
    }
    yield usable_sentence(_("overhead"), usable, light.loss_mag, zone)


def usable_sentence(toward: str, usable: Sequence[Pair], loss_mag: float, zone: str) -> str:
    """Say when Moon and twilight take little enough of the sky toward something."""
    words = {"toward": toward, "loss": number_format(f"{loss_mag:g}")}
    if not usable:
        return _("It is at no time usable %(toward)s, within %(loss)s mag of itself without Moon"
                 " and twilight.") % words  # fmt: skip
    spans = [f"{clock(start, zone)}–{clock(end, zone)}" for start, end in usable]
    words["when"] = get_text_list(spans, _("and"))
    return _("Usable %(toward)s, within %(loss)s mag of itself without Moon and twilight:"
             " %(when)s.") % words  # fmt: skip


def best_sentence(name: str, best: Parts, zone: str) -> str:
    """Say how bright the sky is toward a target at its best moment."""
    return _("Toward %(name)s at its best, %(time)s: %(sky)s mag/arcsec².") % {
        "name": name,
        "time": clock(best.at, zone),
        "sky": tenths(best.sky_mag),
    }


def range_sentence(line: LightLine) -> str:
    """Say between what values a line goes, for whom the picture cannot be seen."""
    low, high = float(np.min(line.magnitudes)), float(np.max(line.magnitudes))
    return _("Over the night from %(bright)s to %(dark)s mag/arcsec².") % {
        "bright": tenths(low),
        "dark": tenths(high),
    }
