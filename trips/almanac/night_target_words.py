"""A target's night in words: in which light, what is in the way, why there is no window."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from django.utils.formats import number_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sky.targets.milky_way import ARCH
from trips.almanac.bearings import bearing, compass_point, height
from trips.almanac.local_time import clock
from trips.almanac.night_targets import AbsentTarget, Best, NightTarget
from trips.almanac.what_ends import Limit
from trips.almanac.whole_sky_words import OVERHEAD_DEGREES
from trips.almanac.why_not import WhyNot

IN_LIGHT = {
    "moonless": gettext_lazy("while it is dark and moonless"),
    "usable": gettext_lazy("while the sky is usable dark"),
    "dark": gettext_lazy("while it is dark"),
    "twilight": gettext_lazy("while the Sun is 6° to 12° down"),
    "moonlit": gettext_lazy("while the Moon lights the land"),
    "any": gettext_lazy("while the Sun is down"),
}
NO_LIGHT = {
    "moonless": gettext_lazy("no moonless dark tonight"),
    "usable": gettext_lazy("the Sun is never 6° down tonight"),
    "dark": gettext_lazy("no dark tonight"),
    "twilight": gettext_lazy("the Sun is not 6° to 12° down tonight"),
    "moonlit": gettext_lazy("no Moon that lights the land and leaves a sky tonight"),
}
NOT_TONIGHT = {
    "shower": gettext_lazy("its peak is not tonight"),
    "pair": gettext_lazy("not close together tonight"),
    "lunar-eclipse": gettext_lazy("no eclipse tonight"),
}


def best_words(best: Best) -> str:
    """Give "21° high, south, 180°"; toward the zenith a direction says little."""
    words = {"height": height(best.standing.altitude_degrees)}
    if best.standing.altitude_degrees >= OVERHEAD_DEGREES:
        return _("%(height)s high, overhead") % words
    words["bearing"] = bearing(best.standing.azimuth_degrees)
    return _("%(height)s high, %(bearing)s") % words


def more_words(one: NightTarget, zone: str) -> str:
    """Say how much air is in the way at the best moment, and when it culminates."""
    return ", ".join(_more(one, zone))


def _more(one: NightTarget, zone: str) -> Iterator[str]:
    if one.best.airmass < float("inf"):
        yield _("airmass %(airmass)s") % {"airmass": _tenths(one.best.airmass)}
    if one.culminates is None:
        return
    at = clock(one.culminates, zone)
    if at == clock(one.best.at, zone):
        yield _("culminates then")
    else:
        yield _("culminates %(time)s") % {"time": at}


def limit_words(limits: Sequence[Limit], zone: str) -> list[str]:
    """Say what is in the way, and when: "Moon up from 22:10 until 04:00", "lower than 25° …"."""
    by_cause: dict[str, list[Limit]] = {}
    for one in limits:
        by_cause.setdefault(_cause(one), []).append(one)
    words = _("%(cause)s %(when)s")
    return [words % {"cause": cause, "when": _when(ends, zone)} for cause, ends in by_cause.items()]


def _cause(one: Limit) -> str:
    if one.by == "moon":
        return _("Moon up")
    if one.by == "land":
        return _("behind the land")
    if one.by == "sky":
        return _("sky too bright")
    if one.by == "height":
        return _("lower than %(least)s") % {"least": _degrees(one.degrees)}
    is_steep = one.degrees == ARCH.highest_top_degrees
    return _("too steep for an arch") if is_steep else _("too flat for an arch")


def _when(limits: Sequence[Limit], zone: str) -> str:
    parts: list[str] = []
    for one in limits:
        words = _("until %(time)s") if one.is_until else _("from %(time)s")
        if parts and not one.is_until:
            words = _("and %(from)s") % {"from": words}
        parts.append(words % {"time": clock(one.at, zone)})
    return " ".join(parts)


def why_words(one: AbsentTarget) -> str:
    """Say why a target has no window."""
    return WORDS[one.why.code](one)


def _not_tonight(one: AbsentTarget) -> str:
    words = NOT_TONIGHT.get(one.entry.target.partition(":")[0])
    return str(words) if words else _("it does not happen tonight")


def _never_rises(one: AbsentTarget) -> str:
    words = _("never rises here: its highest is %(degrees)s° below the horizon")
    return words % {"degrees": _tenths(-one.why.highest.altitude_degrees)}


def _never_that_high(one: AbsentTarget) -> str:
    words = _("never as high here as the %(least)s it is wanted at: %(height)s at most")
    return words % {"least": _degrees(one.why.least), "height": _beside(one.why, one.why.least)}


def _no_light(one: AbsentTarget) -> str:
    return str(NO_LIGHT[one.light])


def _not_then(one: AbsentTarget) -> str:
    return _("it does not happen %(in_light)s") % {"in_light": IN_LIGHT[one.light]}


def _arch_low(one: AbsentTarget) -> str:
    words = _("its top is %(height)s high at most; from %(least)d° on it is an arch")
    least = ARCH.lowest_top_degrees
    return words % {"height": _beside(one.why, least), "least": least}


def _arch_high(one: AbsentTarget) -> str:
    words = _("its top is %(height)s high or higher; up to %(most)d° it is an arch")
    most = ARCH.highest_top_degrees
    return words % {"height": _beside(one.why, most), "most": most}


def _down(one: AbsentTarget) -> str:
    return _("below the horizon %(in_light)s") % {"in_light": IN_LIGHT[one.light]}


def _too_low(one: AbsentTarget) -> str:
    words = _("%(height)s high at most %(in_light)s, wanted at %(least)s")
    return words % {
        "height": _beside(one.why, one.why.least),
        "in_light": IN_LIGHT[one.light],
        "least": _degrees(one.why.least),
    }


def _bright(one: AbsentTarget) -> str:  # noqa: ARG001
    return _("Moon or twilight brighten the sky toward it while it is up")


def _hidden(one: AbsentTarget) -> str:
    words = _("behind the land %(in_light)s: %(height)s high in the %(point)s, the land %(land)s")
    return words % {
        "in_light": IN_LIGHT[one.light],
        "height": _beside(one.why, one.why.least),
        "point": compass_point(one.why.highest.azimuth_degrees),
        "land": _degrees(one.why.least),
    }


def _beside(why: WhyNot, other: float) -> str:
    """Give a height so that it reads as another one than what stands beside it."""
    highest = why.highest.altitude_degrees
    told = height(highest)
    return f"{_tenths(highest)}°" if told == height(other) else told


def _tenths(value: float) -> str:
    # Rounded first: Django cuts what is beyond.
    return number_format(round(value, 1), 1)


def _degrees(value: float) -> str:
    return f"{number_format(f'{round(value, 1):g}')}°"


WORDS: dict[str, Callable[[AbsentTarget], str]] = {
    "not_tonight": _not_tonight,
    "never_rises": _never_rises,
    "never_that_high": _never_that_high,
    "no_light": _no_light,
    "not_then": _not_then,
    "arch_low": _arch_low,
    "arch_high": _arch_high,
    "down": _down,
    "too_low": _too_low,
    "bright": _bright,
    "hidden": _hidden,
}
