"""The nights of a trip's board: when and where people meet, and when each is decided."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from trips.models import Site, TripNight
from trips.services.site_words import access_words, group_words
from trips.templatetags.nights import against
from trips.views.board import Board


@dataclass(frozen=True, slots=True)
class ShownNight:
    """A night with what speaks against it as written down for its site."""

    night: TripNight
    against: tuple[str, ...]

    @property
    def zone(self) -> str:
        return str(self.night.spot.site.zone)


def nights_part(board: Board) -> dict[str, Any]:
    shown = [ShownNight(night, tuple(_against(board, night))) for night in board.nights]
    zones = sorted({one.zone for one in shown})
    return {"nights": shown, "zones": zones, "many_zones": len(zones) > 1}


def _against(board: Board, night: TripNight) -> Iterator[str]:
    site = night.spot.site
    closed = against(site, night.date)
    if closed:
        yield closed
    elif site.night_access != Site.Access.YES:
        words = access_words(site, night.date, today=board.now.date())
        yield _("access: %(words)s") % {"words": words}
    people = max(board.trip.capacity, len(board.placed)) + len(board.instructors)
    if site.largest_group is not None and people > site.largest_group:
        words = _("%(group)s; with its leaders this trip has %(people)d")
        yield words % {"group": group_words(site), "people": people}
