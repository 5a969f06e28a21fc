"""The moments of an eclipse in words, each with where to look."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from django.utils.translation import gettext as _

from sky.eclipses.discs import Contact
from trips.almanac.bearings import bearing, height
from trips.almanac.happenings import Moment

# A hill or a wood may be that high: common practice, no published source.
LOW_DEGREES = 10.0


def moments(contacts: Sequence[Contact], named: Mapping[str, object]) -> tuple[Moment, ...]:
    return tuple(Moment(one.instant, str(named[one.name]), _where(one)) for one in contacts)


def _where(contact: Contact) -> str:
    if not contact.is_visible:
        return _("below the horizon")
    return _("%(height)s high, %(bearing)s") % {
        "height": height(contact.altitude_degrees),
        "bearing": bearing(contact.azimuth_degrees),
    }


def low_horizon(contacts: Sequence[Contact]) -> Iterator[str]:
    """Say what heights are above, where one of them is low."""
    if any(0 < contact.altitude_degrees < LOW_DEGREES for contact in contacts):
        yield _("Heights are above a level horizon; a hill in that direction hides more.")
