"""What must be settled before a group goes to a site, in words: access, permit, how many."""

from __future__ import annotations

from datetime import date, timedelta

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from trips.models import Site


def access_words(site: Site, evening: date | None = None, *, today: date | None = None) -> str:
    """Say whether one may be there at night; where a permit is needed, who has to do what."""
    if site.night_access == Site.Access.NO:
        return str(site.get_night_access_display())
    if site.permit_number:
        held = _("permit %(number)s held") % {"number": site.permit_number}
        if site.night_access == Site.Access.PERMIT:
            return held
        return _("%(access)s; %(permit)s") % {
            "access": site.get_night_access_display(),
            "permit": held,
        }
    if site.night_access == Site.Access.PERMIT:
        return _to_ask_for(site, evening, today)
    return str(site.get_night_access_display())


def _to_ask_for(site: Site, evening: date | None, today: date | None) -> str:
    """Say by when; of a whole season, how many days ahead."""
    days = site.permit_lead_days
    if days is None:
        return _("permit still to ask for")
    if evening is None:
        said = ngettext(
            "permit still to ask for, %(days)d day ahead",
            "permit still to ask for, %(days)d days ahead",
            days,
        )
        return said % {"days": days}
    by = evening - timedelta(days=min(days, (evening - date.min).days))
    late = today is not None and by < today
    said = (
        _("permit still to ask for: it was due by %(day)s")
        if late
        else _("permit still to ask for, by %(day)s")
    )
    return said % {"day": date_format(by, "j F Y")}


def group_words(site: Site) -> str:
    """Say how many may come, or that nobody wrote it down."""
    if site.largest_group is None:
        return _("largest group not written down")
    said = ngettext("at most %(count)d person", "at most %(count)d people", site.largest_group)
    return said % {"count": site.largest_group}
