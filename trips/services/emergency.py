"""The number to call in an emergency: proposed from the country, never assumed."""

from __future__ import annotations

from collections.abc import Iterator

from django.utils.translation import gettext as _

from trips.models import Site
from trips.planning.emergency_numbers import Proposal, proposed


def proposed_for(site: Site) -> Proposal | None:
    """Give what a person may confirm for the site; None where its country or number is unknown."""
    return proposed(site.country)


def words(site: Site) -> str:
    """Say the number, or that nobody has confirmed one."""
    if site.emergency_number:
        return _("Emergency number: %(number)s.") % {"number": site.emergency_number}
    proposal = proposed_for(site)
    if proposal is None:
        return _("The emergency number is not confirmed: ask who leads before you set out.")
    said = _(
        "The emergency number is not confirmed; %(number)s is listed for %(country)s. "
        "Ask who leads before you set out."
    )
    return said % {"number": proposal.number, "country": proposal.country}


def whom_to_call(site: Site) -> str:
    """Give the number for the middle of a sentence; where nobody confirmed one, how it is known."""
    if site.emergency_number:
        return _("the emergency number, %(number)s") % {"number": site.emergency_number}
    return _("the emergency number (112 in Europe, elsewhere the one of the country)")


def proposal_words(proposal: Proposal) -> str:
    """Say what is proposed to whoever can confirm it, with the numbers of single services."""
    said = _("%(country)s: %(number)s (%(source)s).") % {
        "country": proposal.country,
        "number": proposal.number,
        "source": proposal.source,
    }
    others = ", ".join(_others(proposal))
    return f"{said} {others}." if others else said


def _others(proposal: Proposal) -> Iterator[str]:
    if proposal.ambulance:
        yield _("Ambulance %(number)s") % {"number": proposal.ambulance}
    if proposal.fire:
        yield _("fire %(number)s") % {"number": proposal.fire}
    if proposal.police:
        yield _("police %(number)s") % {"number": proposal.police}
