"""What a night's page says first: the dark, the Moon in it, what of it is usable."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, time, timedelta

from django.utils.formats import number_format
from django.utils.translation import gettext as _

from trips.almanac.local_time import clock, local
from trips.almanac.paths import SunPath
from trips.charts.night_words import hours_of as hours
from trips.models import Night
from trips.planning.nights import JudgedNight, Wishes

Pairs = Sequence[Sequence[float]]

LEVELS = (-18, -15, -12)
# Half a minute: what is shorter is not seen in hours and minutes.
LEAST_HOURS = 0.5 / 60


def lead(
    row: Night,
    zone: str,
    sun: SunPath,
    *,
    dark_level: int,
    judged: JudgedNight | None = None,
    wishes: Wishes | None = None,
) -> str:
    """Say in one line when it is dark, whether there is a Moon, and what that gives."""
    if dark_hours(row, dark_level) < LEAST_HOURS:
        return f"{no_dark(sun, zone)} {lighter_levels(row, zone, dark_level)}".strip()
    found = {
        "dark": spans_in_words(dark_of(row, dark_level), row, zone),
        "moon": _moon(row, dark_level, zone),
        "gives": _gives(row, dark_level, judged, wishes),
    }
    return _("Dark %(dark)s, %(moon)s: %(gives)s.") % found


def no_dark(sun: SunPath, zone: str) -> str:
    """Say how low the Sun comes where that is not low enough."""
    low = sun.lowest
    words = {
        "degrees": round(abs(low.altitude_geometric_degrees)),
        "time": clock(low.instant, zone),
    }
    if "sunset" not in sun.events and low.altitude_geometric_degrees > 0:
        words["degrees"] = round(low.altitude_degrees)
        return _("No dark: the Sun does not set, lowest %(degrees)d° up at %(time)s.") % words
    return _("No dark: the Sun comes no lower than %(degrees)d° down, at %(time)s.") % words


def lighter_levels(row: Night, zone: str, dark_level: int) -> str:
    """Say what the next level less dark gives that gives anything."""
    for level in LEVELS:
        if level > dark_level and dark_hours(row, level) >= LEAST_HOURS:
            return _("The Sun is %(level)d° down or lower %(spans)s, %(hours)s.") % {
                "level": -level,
                "spans": spans_in_words(dark_of(row, level), row, zone),
                "hours": hours(dark_hours(row, level)),
            }
    return ""


def _moon(row: Night, dark_level: int, zone: str) -> str:
    dark, moonless = dark_hours(row, dark_level), moonless_hours(row, dark_level)
    if moonless < LEAST_HOURS:
        return _("the Moon up all through it")
    if dark - moonless < LEAST_HOURS:
        return _("no Moon")
    return _("without the Moon %(spans)s") % {"spans": _moonless(row, dark_level, zone)}


def _moonless(row: Night, dark_level: int, zone: str) -> str:
    """Give "until 01:17" or "from 01:48" where the dark itself is the other end."""
    dark, moonless = dark_of(row, dark_level), getattr(row, f"moonless_{-dark_level}")
    if len(dark) == len(moonless) == 1:
        (start, end), (first, last) = dark[0], moonless[0]
        if abs(first - start) < 1:
            return _("until %(time)s") % {"time": _edge(last, row, zone)}
        if abs(last - end) < 1:
            return _("from %(time)s") % {"time": _edge(first, row, zone)}
    return spans_in_words(moonless, row, zone)


def _gives(row: Night, dark_level: int, judged: JudgedNight | None, wishes: Wishes | None) -> str:
    if judged is None or wishes is None:
        return _("%(hours)s of moonless dark") % {"hours": hours(moonless_hours(row, dark_level))}
    words = {
        "hours": hours(judged.usable_hours),
        "out": out_hours(wishes),
        "least": hours(wishes.least_hours),
    }
    if wishes.target_list is not None:
        if judged.why_not and judged.usable_hours >= LEAST_HOURS:
            return _("wanted targets would count %(hours)s while you are out %(out)s") % words
        return _("wanted targets count %(hours)s while you are out %(out)s") % words
    if judged.why_not and judged.usable_hours >= LEAST_HOURS:
        return _("%(hours)s would be usable while you are out %(out)s") % words
    if judged.is_candidate or judged.usable_hours < LEAST_HOURS:
        return _("%(hours)s usable while you are out %(out)s") % words
    return _("%(hours)s usable while you are out %(out)s, fewer than the %(least)s wanted") % words


def staying(gain: tuple[time, float] | None) -> str:
    """Say what a later hour would add, or nothing."""
    if gain is None:
        return ""
    until, gained = gain
    return _("Staying until %(time)s would add %(hours)s.") % {
        "time": f"{until:%H:%M}",
        "hours": hours(gained),
    }


def out_hours(wishes: Wishes) -> str:
    """Give the stay-out hours: "until 02:00", or "from 22:00 to 02:00"."""
    if wishes.out_from is None:
        return _("until %(time)s") % {"time": f"{wishes.out_until:%H:%M}"}
    return _("from %(start)s to %(end)s") % {
        "start": f"{wishes.out_from:%H:%M}",
        "end": f"{wishes.out_until:%H:%M}",
    }


def spans_in_words(pairs: Pairs, row: Night, zone: str) -> str:
    """Give "from 23:43 to 04:38 and from 05:10 to 05:20"; the noons of the night by name."""
    said = [
        _("from %(start)s to %(end)s")
        % {"start": _edge(start, row, zone), "end": _edge(end, row, zone)}
        for start, end in pairs
    ]
    return _(" and ").join(said)


def _edge(seconds: float, row: Night, zone: str) -> str:
    if seconds <= row.start.timestamp():
        return _("noon")
    if seconds >= row.end.timestamp():
        return _("the next noon")
    return clock(seconds, zone)


def zone_words(row: Night, zone: str) -> str:
    """Give the offset of the night: "UTC+2", or both where clocks change."""
    before, after = offset(row.start, zone), offset(row.end, zone)
    if before == after:
        return before
    return _("%(before)s in the evening, %(after)s in the morning") % {
        "before": before,
        "after": after,
    }


def offset(instant: datetime, zone: str) -> str:
    """Give "UTC+5:30"; the hours alone where they are whole."""
    ahead = local(instant, zone).utcoffset() or timedelta(0)
    sign = "−" if ahead < timedelta(0) else "+"
    whole, minutes = divmod(abs(ahead) // timedelta(minutes=1), 60)
    return f"UTC{sign}{whole}" + (f":{minutes:02d}" if minutes else "")


def metres(elevation_m: float) -> str:
    return _("%(metres)s\u00a0m") % {"metres": number_format(round(elevation_m), use_l10n=True)}


def dark_of(row: Night, dark_level: int) -> Pairs:
    found: Pairs = getattr(row, f"dark_{-dark_level}")
    return found


def dark_hours(row: Night, dark_level: int) -> float:
    return float(getattr(row, f"dark_hours_{-dark_level}"))


def moonless_hours(row: Night, dark_level: int) -> float:
    return float(getattr(row, f"moonless_hours_{-dark_level}"))
