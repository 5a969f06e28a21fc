"""Doubts about a typed position, said before it is saved. They warn; they do not refuse."""

from __future__ import annotations

from collections.abc import Iterator

from django.utils.translation import gettext as _

from trips.almanac.places import looks_swapped, zone_at, zone_misfit
from trips.models import Site


def doubts(site: Site) -> list[str]:
    """Give one sentence for each thing that makes the position or its zone look wrong."""
    return [*_about_zone(site), *_about_order(site)]


def _about_zone(site: Site) -> Iterator[str]:
    found = zone_misfit(site.zone, site.latitude, site.longitude)
    if found:
        yield _(
            "Clocks at that position keep %(found)s; %(zone)s keeps other hours. "
            "Every time would be shown in %(zone)s."
        ) % {"found": found, "zone": site.zone}


def _about_order(site: Site) -> Iterator[str]:
    if looks_swapped(site.zone, site.latitude, site.longitude) or _fits_the_club_swapped(site):
        yield _("Latitude and longitude look swapped: exchanged, they would fit.")


def _fits_the_club_swapped(site: Site) -> bool:
    """Tell whether only the exchanged position lies in a zone of the organisation's other sites."""
    if abs(site.longitude) > 90:
        return False
    others = Site.objects.current().filter(organisation=site.organisation).exclude(pk=site.pk)
    zones = set(others.values_list("zone", flat=True))
    here = zone_at(site.latitude, site.longitude)
    return here not in zones and zone_at(site.longitude, site.latitude) in zones
