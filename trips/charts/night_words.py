"""A night in words, as the calendar and the table say it. Figures are localised: these are read."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from django.utils.formats import number_format
from django.utils.translation import get_language, gettext, ngettext

from trips.charts.bands import DAY_MINUTES, NightBands, NightLine


def _(phrase: str) -> str:
    """Translate a phrase, once a language: a year says the same dozen hundreds of times."""
    return _translated(phrase, get_language())


@lru_cache(maxsize=256)
def _translated(phrase: str, _language: str | None) -> str:
    return gettext(phrase)


def clock(minute: float) -> str:
    """Give a minute after noon as the clock shows it, to the nearest: 21:34."""
    hour, past = divmod(int(minute + 0.5), 60)
    return f"{(hour + 12) % 24:02d}:{past:02d}"


def figure(hours: float) -> str:
    """Give "4.0", or "none"; what is less than a tenth is told as one."""
    return _tenths(max(1, round(hours * 10)), get_language()) if hours > 0 else _("none")


def hours_of(hours: float) -> str:
    """Give "4.0 h", or "none"."""
    # No-break space: a figure keeps its unit at the end of a line.
    return _("%(hours)s h") % {"hours": figure(hours)} if hours > 0 else _("none")


@lru_cache(maxsize=4096)
def _tenths(tenths: int, _language: str | None) -> str:
    return number_format(tenths / 10, 1)


def sunset(bands: NightBands) -> str:
    """Give the time of sunset, or why there is none."""
    if not bands.civil:
        return _("does not set")
    start, end = bands.civil[0]
    if start > 0:
        return clock(start)
    return _("does not rise") if end >= DAY_MINUTES else _("before noon")


def dark_span(bands: NightBands) -> str:
    """Give when it is dark: "23:31–04:37", or "no dark"."""
    if bands.dark == ((0, DAY_MINUTES),):
        return _("noon to noon")
    spans = ", ".join(f"{clock(start)}–{clock(end)}" for start, end in bands.dark)
    return spans or _("no dark")


def lit(bands: NightBands) -> str:
    """Give "11 %", with a no-break space."""
    return _("%(percent)d %%") % {"percent": round(bands.lit * 100)}


def moon(bands: NightBands) -> str:
    """Give what is lit of the Moon and what it does at night: "11 %, rises 04:26"."""
    told = moon_events(bands) or (_("up throughout") if _is_up(bands) else _("not up at night"))
    # No-break spaces: a line may end between two events only.
    return f"{lit(bands)}, {told}"


def moon_events(bands: NightBands) -> str:
    """Give moonset and moonrise between sunset and sunrise, or all day where there is neither."""
    first, last = _night(bands)
    times = sorted(
        [(end, _("sets %(time)s")) for _start, end in bands.moon_up]
        + [(start, _("rises %(time)s")) for start, _end in bands.moon_up]
    )
    return ", ".join(words % {"time": clock(at)} for at, words in times if first < at < last)


def _night(bands: NightBands) -> tuple[float, float]:
    return (bands.civil[0][0], bands.civil[-1][1]) if bands.civil else (0, DAY_MINUTES)


def _is_up(bands: NightBands) -> bool:
    return bool(bands.veil or (bands.moon_up and not bands.civil))


def kind(night: NightLine) -> str:
    """Give the one thing that stands out of a night: it is in a run, not offered, a candidate."""
    if night.run:
        return "run"
    if night.against:
        return "against"
    return "candidate" if night.is_candidate else ""


def run(number: int | None) -> str:
    return _("run %(number)d") % {"number": number} if number else ""


def mark(night: NightLine) -> str:
    """Say what the night is to the season, and why where it is nothing."""
    if night.run or night.against:
        return run(night.run) or night.against
    if night.is_candidate:
        return _("candidate")
    if not night.dark_hours:
        return _("no dark")
    if not night.moonless_hours:
        return _("moonlit")
    return _("too short") if night.usable_hours else _("none while out")


def usable_span(bands: NightBands) -> str:
    """Give when the hours that count are: "19:18–23:18", or nothing."""
    return "–".join(clock(minute) for minute in bands.usable) if bands.usable else ""


def candidates(nights: Iterable[NightLine]) -> str:
    """Count candidates: "14 candidate nights; 3 more would be (site closed)"."""
    found = [night for night in nights if night.is_candidate]
    against = [night for night in found if night.against]
    count = len(found) - len(against)
    told = ngettext("%(count)d candidate night", "%(count)d candidate nights", count)
    told = told % {"count": count} if count else _("no candidate night")
    if not against:
        return told
    more = (
        ngettext("%(count)d more would be", "%(count)d more would be", len(against))
        if count
        else ngettext("%(count)d would be", "%(count)d would be", len(against))
    )
    return _("%(candidates)s; %(more)s (%(reason)s)") % {
        "candidates": told,
        "more": more % {"count": len(against)},
        "reason": reason(against),
    }


def reason(against: Iterable[NightLine]) -> str:
    """Give what speaks against these nights where it is one thing."""
    reasons = {night.against for night in against}
    return reasons.pop() if len(reasons) == 1 else _("not offered")


def day_ranges(days: Iterable[int]) -> str:
    """Give sorted days of a month as "1–3, 7, 9–10"."""
    ranges: list[list[int]] = []
    for day in days:
        if ranges and day == ranges[-1][1] + 1:
            ranges[-1][1] = day
        else:
            ranges.append([day, day])
    return ", ".join(f"{a}–{b}" if a < b else f"{a}" for a, b in ranges)


def window(nights: Iterable[NightLine], usual: tuple[int, int]) -> tuple[int, int]:
    """Widen a window of minutes by whole hours until the dark of all nights is inside.

    At most to the 16:00 to 09:00 of the season chart, but no usable block is left outside.
    """
    first, last = map(float, usual)
    for night in nights:
        for start, end in night.bands.dark:
            first, last = min(first, max(start, 240)), max(last, min(end, 1260))
        if night.bands.usable:
            start, end = night.bands.usable
            first, last = min(first, start), max(last, end)
    return int(first // 60) * 60, -int(-last // 60) * 60
