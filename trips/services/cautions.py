"""What to mind at a site: the dangers written down, each with the usual caution of its kind.

Common practice of leading people outdoors at night, no published source; local rules, land
managers and licensed guides come first, and the pages say so.
"""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.translation import gettext_lazy as _

from trips.models import Hazard, Site


@dataclass(frozen=True, slots=True)
class Caution:
    """`seen` is what people wrote down of this site; `advice` holds wherever the kind occurs."""

    kind: str
    title: str
    seen: tuple[str, ...]
    advice: str


ADVICE = {
    "edge": _(
        "Walk the ground by daylight and mark a line that nobody crosses in the dark. "
        "Nobody steps back while looking through a camera."
    ),
    "water": _(
        "Look up tide, swell or flow for the very night, turn back early, and trust no ice on it. "
        "Rocks that are wet have been under water."
    ),
    "cold": _(
        "Standing still takes more clothing than walking: a dry layer, gloves and something hot "
        "for everybody. Whoever shivers or grows quiet goes to the car."
    ),
    "ice": _(
        "Ground that was wet at dusk is ice by midnight. Grips for shoes, chains in the car, and "
        "no bridge of snow or ice that nobody has tested."
    ),
    "road": _(
        "Drive it once by day. In the dark slow down for bends, gravel and animals, and turn the "
        "cars round before the session."
    ),
    "ground": _(
        "Keep to the way walked by day, with a light to the ground. Shafts, pits and boards over "
        "them are walked round, never tried."
    ),
    "wildlife": _(
        "Keep away from nests, dens, herds and dogs at work, and ask which months are closed for "
        "breeding. White light and noise carry far."
    ),
    "fire": _(
        "No flame, no stove, no smoking while a ban holds; park on bare ground, not on dry grass. "
        "Ask on the day: bans come at short notice."
    ),
    "people": _(
        "Ask when hunting, drills or other use is announced, and stay away then. Wear something "
        "that can be seen on the way in and out."
    ),
    "other": _("Ask whoever knows the place, and tell the group before it sets out."),
}
# Said where a site has no hazards; cold and the drive home are cautioned about all the same.
NOTHING_WRITTEN_DOWN = _("Nobody has written down a danger here: go once by day.")
DRIVING = _(
    "The drive home after midnight is part of the plan: two drivers, a rest before, and nobody "
    "drives who would rather sleep."
)


def cautions(site: Site, hazards: list[Hazard]) -> list[Caution]:
    """Give the kinds written down, water on a coast, and what every night out brings with it."""
    seen: dict[str, list[str]] = {hazard.kind: [] for hazard in hazards}
    for hazard in hazards:
        seen[hazard.kind].append(hazard.text)
    if site.on_coast:
        seen.setdefault(Hazard.Kind.WATER, [])
    seen.setdefault(Hazard.Kind.COLD, [])
    order = [kind for kind in Hazard.Kind if kind in seen]
    return [
        *(Caution(kind, _title(kind), tuple(seen[kind]), str(ADVICE[kind])) for kind in order),
        Caution("driving", str(_("driving tired")), (), str(DRIVING)),
    ]


def _title(kind: str) -> str:
    return str(Hazard.Kind(kind).label)
