"""What silence means before a decision and after it: never one rule for both."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from trips.almanac.local_time import clock, local
from trips.models import TripNight
from trips.services.night_times import spot_decided

# People set out about as long before they meet as the drive takes, an hour where it is not known.
SETTING_OUT = timedelta(hours=1)


def silence(night: TripNight, *, caller: str, says_where: bool = True) -> str:
    """Give the rule that holds now: by what was decided, not by the hour. `says_where` False: the
    meeting stands beside it."""
    if night.decision == TripNight.Decision.OPEN:
        return silence_before(night)
    return silence_after(night, caller=caller, says_where=says_where)


def silence_before(night: TripNight) -> str:
    """Say what holds until the decision: whoever hears nothing stays at home."""
    if night.decision_at is None:
        return _("When it is decided is not settled yet. If you hear nothing, do not set out.")
    words = _("Decided at %(when)s at %(place)s. If you hear nothing, do not set out.")
    return words % {
        "when": _moment(night.decision_at, night),
        "place": night.decision_place or _("a place that is not settled yet"),
    }


def silence_after(night: TripNight, *, caller: str, says_where: bool = True) -> str:
    """Say what holds once it is decided; whoever hears nothing then comes."""
    if night.decision == TripNight.Decision.NO_GO:
        return _("We do not go. Do not set out.")
    if night.decision == TripNight.Decision.OPEN:
        return silence_before(night)
    words = _("We go to %(spot)s. If that changes, %(caller)s calls you before %(call)s. If you "
              "hear nothing, come.")  # fmt: skip
    if says_where:
        words = _(
            "We go. Meet at %(meeting)s: %(point)s; from there to %(spot)s. If that changes, "
            "%(caller)s calls you before %(call)s. If you hear nothing, come."
        )
    return words % {
        "spot": spot_decided(night).name,
        "meeting": clock(night.meeting_at, _zone(night)),
        "point": night.meeting_point,
        "caller": caller,
        "call": clock(calls_before(night), _zone(night)),
    }


def calls_before(night: TripNight) -> datetime:
    """Give the hour at which people set out: nobody can be kept at home after that."""
    drive = night.spot.site.drive_minutes
    return night.meeting_at - (SETTING_OUT if drive is None else timedelta(minutes=drive))


def _moment(instant: datetime, night: TripNight) -> str:
    """Give "16:00", with the day where it is another one than the evening."""
    told = clock(instant, _zone(night))
    day = local(instant, _zone(night)).date()
    if day == night.date:
        return told
    return _("%(time)s on %(day)s") % {"time": told, "day": date_format(day, "l j F")}


def _zone(night: TripNight) -> str:
    return str(night.spot.site.zone)
