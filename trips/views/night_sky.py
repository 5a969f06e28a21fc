"""The whole sky at a time of the night, chosen by plain links, from a spot of the site."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.http import QueryDict
from django.utils.translation import gettext as _

from trips.almanac.local_time import clock
from trips.almanac.sky_times import has_sky, instant_of, sky_times, within_sky
from trips.almanac.whole_sky import targets_of, whole_sky
from trips.almanac.whole_sky_words import description, milky_way_sentence, wanted_sentences
from trips.charts.dome import dome
from trips.models import Night, Spot, TargetEntry
from trips.planning.nights import Block
from trips.views.night_spot import SeenFrom


@dataclass(frozen=True, slots=True)
class Choice:
    """A link to another picture: from another spot, or at another time."""

    words: str
    address: str
    is_chosen: bool
    key: str = ""  # ends the link's id, so that the keyboard stays on it


def night_sky(
    row: Night,
    seen_from: SeenFrom,
    entries: Sequence[TargetEntry],
    asked: QueryDict,
    *,
    block: Block | None,
) -> dict[str, Any]:
    """Give the picture of the sky at the time asked for, with the links to the others."""
    site, spots, spot = seen_from.site, seen_from.spots, seen_from.spot
    if not has_sky(row):
        return {}
    times = sky_times(row, site.zone)
    usual = _nearest(times, _middle(row, block))
    instant, wrong_time = _instant(asked.get("at"), row, site.zone, usual)
    sky = whole_sky(row, site, spot, instant, targets_of(entries))
    at = clock(instant, site.zone)
    title = _("The whole sky at %(time)s") % {"time": at}
    is_level = sky.skyline.is_level
    rim = _rim(spot, is_level=is_level)
    return {
        "at": at,
        "instant": instant,
        "picture": dome(sky, clock=at, rim=rim, title=title, description=description(sky)),
        "wanted": wanted_sentences(sky),
        "milky_way": milky_way_sentence(sky),
        "spot": spot,
        "is_level": is_level,
        "times": list(_times(times, instant, site.zone, asked)),
        "spots": list(_spots(spots, spot, asked)) if len(spots) > 1 else [],
        "mistakes": [said for said in (wrong_time, seen_from.mistake) if said],
    }


def _rim(spot: Spot | None, *, is_level: bool) -> str:
    """Say below the picture what its edge is."""
    if spot and not is_level:
        return _("Seen from %(spot)s") % {"spot": spot.name}
    return _("Level horizon")


def _instant(asked: str | None, row: Night, zone: str, usual: datetime) -> tuple[datetime, str]:
    """Give the time asked for, else the usual; and a sentence where it cannot be shown."""
    if not asked:
        return usual, ""
    found = instant_of(asked, row, zone)
    if found is None:
        words = _("“%(asked)s” is no time; write one such as 23:30. This is the sky at %(time)s.")
        return usual, words % {"asked": asked[:20], "time": clock(usual, zone)}
    shown = within_sky(found, row)
    if shown != found:
        words = _("At %(asked)s the Sun is up: this is the sky at %(time)s.")
        return shown, words % {"asked": clock(found, zone), "time": clock(shown, zone)}
    return shown, ""


def _middle(row: Night, block: Block | None) -> datetime:
    """Give the middle of the usable hours, else of the night."""
    start, end = row.sunset or row.start, row.sunrise or row.end
    if block:
        start, end = block.start, block.end
    return start + (end - start) / 2


def _nearest(times: Sequence[datetime], instant: datetime) -> datetime:
    return min(times, key=lambda at: abs(at - instant))


def _times(
    times: Sequence[datetime], chosen: datetime, zone: str, asked: QueryDict
) -> Iterator[Choice]:
    """Link each time; one that was asked for besides them stands where it belongs."""
    ends = {times[0]: _("dusk"), times[-1]: _("dawn")}
    for at in sorted({*times, chosen}):
        words = clock(at, zone)
        named = f"{words} {ends[at]}" if at in ends else words
        address = _address(asked, at=words)
        yield Choice(named, address, at == chosen, words.replace(":", ""))


def _spots(spots: Sequence[Spot], chosen: Spot | None, asked: QueryDict) -> Iterator[Choice]:
    for spot in spots:
        address = _address(asked, spot=str(spot.pk))
        yield Choice(spot.name, address, spot == chosen)


def _address(asked: QueryDict, **changed: str) -> str:
    address = asked.copy()
    for name, value in changed.items():
        address[name] = value
    return f"?{address.urlencode()}"
