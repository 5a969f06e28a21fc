"""A night that is lit, then dark, in a sentence: two times, and how the Moon stands."""

from __future__ import annotations

from django.utils.formats import number_format
from django.utils.translation import gettext as _

from sky.lit_then_dark import LitAndDark, SideLight
from trips.almanac.local_time import clock


def night_words(found: LitAndDark, landmark: str, target: str, zone: str) -> str:
    """Give "the Moon, 31 % lit, 22° high, lights the face of the tower from the left, 45° aside,
    until 22:40; dark with the core from 23:20", or the other way round.

    Without a target it is moonless dark.
    """
    dark = _("dark with %(target)s") % {"target": target} if target else _("moonless dark")
    words = _("%(dark)s until %(dark_ends)s; from %(lit_begins)s %(light)s")
    if found.is_lit_first:
        words = _("%(light)s, until %(lit_ends)s; %(dark)s from %(dark_begins)s")
    return words % {
        "light": _light_words(found, landmark),
        "dark": dark,
        "lit_begins": clock(found.lit[0], zone),
        "lit_ends": clock(found.lit[1], zone),
        "dark_begins": clock(found.dark[0], zone),
        "dark_ends": clock(found.dark[1], zone),
    }


def _light_words(found: LitAndDark, landmark: str) -> str:
    words = _("the Moon, %(lit)s, %(height)s high, lights the face of %(landmark)s %(side)s")
    return words % {
        "lit": lit_words(found),
        "height": height_words(found),
        "landmark": landmark,
        "side": side_words(found),
    }


def moon_words(light: SideLight) -> str:
    """Say which Moon counts: "30–80° aside of the face, 10–45° high, 10–70 % lit"."""
    least, most = light.illuminated
    words = _("%(aside)s° aside of the face, %(high)s° high, %(lit)s\u00a0%% lit")
    return words % {
        "aside": _between(light.angles),
        "high": _between(light.altitudes),
        "lit": _between((100 * least, 100 * most)),
    }


def _between(ends: tuple[float, float]) -> str:
    return "–".join(number_format(f"{end:g}") for end in ends)


def lit_words(found: LitAndDark) -> str:
    return _("%(percent)d\u00a0%% lit") % {"percent": round(found.illuminated * 100)}


def height_words(found: LitAndDark) -> str:
    return f"{round(found.altitude_degrees)}°"


def side_words(found: LitAndDark) -> str:
    """Say from where, as one stands who faces the wall."""
    words = _("from the right, %(angle)d° aside")
    if found.is_from_left:
        words = _("from the left, %(angle)d° aside")
    return words % {"angle": round(found.angle_degrees)}
