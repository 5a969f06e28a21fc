"""What is estimated of a site's dark where nobody has measured, and which town lights it most."""

from __future__ import annotations

from django import template
from django.utils.formats import number_format
from django.utils.translation import gettext as _

from trips.almanac.local_sky import estimated_mag
from trips.almanac.skyglow import glow_of, share_of_glow
from trips.models import Site
from trips.templatetags.comparing import isolated

register = template.Library()


@register.filter
def estimated_darkness(site: Site) -> str:
    """Give the sky overhead in mag/arcsec², to be called an estimate where it is written."""
    return number_format(estimated_mag(site), 1)


@register.filter
def lit_by(site: Site) -> str:
    """Give "glow: Teruel 39 %", the town that most of it comes from."""
    glow = glow_of(site)
    if not glow.towns:
        return _("no town near")
    town = glow.towns[0]
    words = _("glow: %(town)s %(share)s")
    return words % {"town": isolated(town.name), "share": share_of_glow(town, glow)}
