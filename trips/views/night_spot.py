"""The spot that a night's sky and targets are seen from."""

from __future__ import annotations

from dataclasses import dataclass

from django.db.models import prefetch_related_objects
from django.utils.translation import gettext as _

from trips.models import Site, Spot
from trips.services.spots import spots_of


@dataclass(frozen=True, slots=True)
class SeenFrom:
    """A site's spots and the one looked from; None: the site itself. `mistake` says in a sentence
    that no such spot is there as was asked for."""

    site: Site
    spots: list[Spot]
    spot: Spot | None
    mistake: str


def seen_from(site: Site, asked: str | None) -> SeenFrom:
    """Look from the spot asked for, else from the first, with its landmarks. Two queries."""
    spots = spots_of(site)
    chosen = next((spot for spot in spots if str(spot.pk) == asked), None)
    usual = spots[0] if spots else None
    mistake = _mistake(usual) if asked and not chosen else ""
    spot = chosen or usual
    if spot:
        prefetch_related_objects([spot], "landmarks")
    return SeenFrom(site, spots, spot, mistake)


def _mistake(usual: Spot | None) -> str:
    if usual is None:
        return _("This site has no spots yet: the sky is that over the site.")
    words = _("That is no spot of this site: the sky is that from %(spot)s.")
    return words % {"spot": usual.name}
