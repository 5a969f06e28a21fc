"""Where a command computes: a position or a stored site, and a doubt about its zone."""

from __future__ import annotations

from typing import Any

from django.core.management.base import CommandParser
from django.utils.translation import gettext as _

from trips.almanac.places import looks_swapped, place_of, zone_misfit
from trips.management.plain import RefusalError, read_number
from trips.models import Site


def add_place_options(parser: CommandParser) -> None:
    parser.add_argument("--lat", metavar="DEGREES", help=_("latitude, north positive"))
    parser.add_argument("--lon", metavar="DEGREES", help=_("longitude, east positive"))
    parser.add_argument("--elevation", default="0", metavar="METRES", help=_("default: 0"))
    parser.add_argument("--zone", default="", help=_("default: found from the position"))
    parser.add_argument("--site", metavar="NAME", help=_("a stored site, instead of a position"))


def site_asked(options: dict[str, Any]) -> Site | None:
    """Give the site where the options name a place, None where they name none."""
    named = (options["site"], options["lat"], options["lon"], options["zone"] or None)
    return None if all(each is None for each in named) else site_of(options)


def site_of(options: dict[str, Any]) -> Site:
    """Give the stored site or one, never saved, at the position; errors: those of Place."""
    if options["site"] is not None:
        if options["lat"] is not None or options["lon"] is not None or options["zone"]:
            raise RefusalError(
                _("Give --site alone, or a position with --lat and --lon, not both.")
            )
        return _stored_site(options["site"])
    if options["lat"] is None or options["lon"] is None:
        raise RefusalError(_("Give a position with --lat and --lon, or a stored site with --site."))
    site = Site(
        latitude=read_number("--lat", options["lat"]),
        longitude=read_number("--lon", options["lon"]),
        elevation_m=read_number("--elevation", options["elevation"]),
        zone=options["zone"],
    )
    site.zone = place_of(site).zone
    return site


def _stored_site(name: str) -> Site:
    found = list(Site.objects.current().filter(name=name)[:2])
    if not found:
        raise RefusalError(_("--site: there is no site called “%s”.") % name)
    if len(found) > 1:
        raise RefusalError(
            _("--site: several organisations have a site called “%s”; give --lat and --lon.") % name
        )
    site: Site = found[0]
    return site


def doubt_of(site: Site) -> str:
    """Say that the zone does not fit the position; empty where it does."""
    found = zone_misfit(site.zone, site.latitude, site.longitude)
    if found is None:
        return ""
    doubt = _("Note: %(found)s is kept at this position, not %(zone)s.") % {
        "found": found,
        "zone": site.zone,
    }
    if looks_swapped(site.zone, site.latitude, site.longitude):
        doubt += " " + _("Latitude and longitude may be swapped.")
    return doubt
