"""The moments of an eclipse in words, each with how high the Moon or the Sun then stands."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from django.utils.translation import gettext as _

from sky.eclipses.discs import Contact
from trips.almanac.bearings import height
from trips.almanac.local_time import clock

# A hill or a wood may be that high: common practice, no published source.
LOW_DEGREES = 10.0


def moments(
    contacts: Sequence[Contact], named: Mapping[str, object], body: str, zone: str
) -> Iterator[str]:
    """Give a sentence for each moment, and where it is low a last one about the horizon."""
    for contact in contacts:
        yield _("%(time)s %(moment)s, %(where)s.") % {
            "time": clock(contact.instant, zone),
            "moment": named[contact.name],
            "where": _where(contact, body),
        }
    if any(0 < contact.altitude_degrees < LOW_DEGREES for contact in contacts):
        yield _("Heights are above a level horizon; a hill in that direction hides more.")


def _where(contact: Contact, body: str) -> str:
    if not contact.is_visible:
        return _("%(body)s below the horizon") % {"body": body}
    return _("%(body)s %(height)s high") % {
        "body": body,
        "height": height(contact.altitude_degrees),
    }
