"""Letters about a night that nobody closed: to those who lead it, then to the contact at home.

No health notes and no names of participants: how many people, and which cars to look for.
"""

from __future__ import annotations

from datetime import timedelta

from django.db.models import Q
from django.utils.crypto import salted_hmac
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from trips.almanac.local_time import clock
from trips.almanac.places import describe_position, geo_of
from trips.models import Letter, Spot, Trip, TripInstructor, TripNight
from trips.services import links
from trips.services.emergency import whom_to_call
from trips.services.leading import coordinators_of
from trips.services.letter_kinds.post import URGENT, Kind
from trips.services.letter_kinds.written import Written, address, named, paragraphs
from trips.services.night_times import spot_decided
from trips.services.who_is_out import heads_of, out_in_words

INSTRUCTOR, CONTACT, OVER = "call_out_instructor", "call_out_contact", "call_out_over"


def key_for(night: TripNight, instructor: TripInstructor | None = None) -> str:
    """Give what makes a letter of this night and its planned hour, to the same reader, one."""
    to = f"instructor-{instructor.pk}" if instructor else f"contact-{_digest(night.trip)}"
    return f"{_key_of_hour(night)}:{to}"


def to_instructor(letter: Letter) -> Written | None:
    night, instructor = letter.night, letter.instructor
    if night is None or instructor is None or not _is_overdue(letter, night):
        return None
    return Written(
        instructor.user.email,
        _("Is everybody back? The night at %(site)s is not closed") % _names(night),
        paragraphs(
            _overdue(night),
            _("If everybody is back, close the night here:"),
            address("head_count", links.token_of(instructor)),
            _(
                "If somebody is not, or you do not know: call those who are out. If nobody "
                "answers, call %(number)s; do not wait for this service."
            )
            % {"number": whom_to_call(spot_decided(night).site)},
            _then_the_contact(letter, night),
            *_what_rescuers_ask(night),
            _no_rescue(),
        ),
    )


def to_contact(letter: Letter) -> Written | None:
    night = letter.night
    if night is None or not letter.trip.contact_mail or not _is_overdue(letter, night):
        return None
    return Written(
        letter.trip.contact_mail,
        _("Overdue: the night at %(site)s, %(date)s") % _names(night),
        paragraphs(
            _("Hello %(name)s,") % {"name": _contact(letter.trip)},
            _(
                "You are the contact at home of “%(trip)s”: a group that photographs the sky at "
                "night, outdoors. Nobody has said that they are back, and you are the one who can "
                "act. This is what to do:"
            )
            % _names(night),
            "\n".join([_("1. Call those who lead, each of them:"), leaders(letter.trip)]),
            _(
                "2. If nobody answers, call %(number)s. Say that a group is overdue, and read out "
                "what follows. Do not set out yourself to look for them."
            )
            % {"number": whom_to_call(spot_decided(night).site)},
            _no_rescue(),
            _overdue(night),
            *_what_rescuers_ask(night),
            _("You get another letter as soon as somebody says that all are back."),
            _who_else_closes(letter.trip),
        ),
    )


def over(letter: Letter) -> Written | None:
    """Call off what the contact was told."""
    night = letter.night
    if night is None or night.closed_at is None or not letter.trip.contact_mail:
        return None
    words = _("%(by)s closed the night at %(time)s (%(zone)s) and says that all are back.")
    return Written(
        letter.trip.contact_mail,
        _("All are back: the night at %(site)s, %(date)s") % _names(night),
        paragraphs(
            words
            % {
                "by": named(night.closed_by),
                "time": clock(night.closed_at, _zone(night)),
                "zone": _zone(night),
            },
            _("If you have called for help, call again and say so."),
        ),
    )


def is_told(night: TripNight, *, of_this_hour: bool = False) -> bool:
    """Tell whether a contact has a letter, or may have it: a mail server that fell silent may have
    taken it all the same."""
    going = Q(state__in=(Letter.State.SENDING, Letter.State.SENT)) | Q(attempts__gt=0)
    told = Letter.objects.filter(going, night=night, kind=CONTACT)
    return bool(told.filter(key__startswith=_key_of_hour(night) if of_this_hour else "").exists())


CALL_OUTS: dict[str, Kind] = {
    INSTRUCTOR: Kind(to_instructor, URGENT),
    CONTACT: Kind(to_contact, URGENT),
    OVER: Kind(over, URGENT),
}


def leaders(trip: Trip) -> str:
    """List who leads, with the phone where one is written down."""
    lines = [
        f"{named(leader)}: {leader.phone or _('no phone written down')}"
        for leader in trip.instructors.select_related("user")
    ]
    return "\n".join(lines)


def _who_else_closes(trip: Trip) -> str:
    people = [named(f"{one.get_full_name()} {one.email}".strip()) for one in coordinators_of(trip)]
    words = _("If you hear that all are back, these can close the night too: %(people)s.")
    return words % {"people": ", ".join(people)} if people else ""


def _key_of_hour(night: TripNight) -> str:
    return f"call-out:{night.pk}:{night.call_out_at.timestamp():.0f}"


def _digest(trip: Trip) -> str:
    """Give what another address makes another one, and from which nobody reads it."""
    return salted_hmac("call-out contact", trip.contact_mail.lower()).hexdigest()[:16]


def _is_overdue(letter: Letter, night: TripNight) -> bool:
    """A night that was closed, called off or given a later end since is not."""
    called_off = night.decision == TripNight.Decision.NO_GO or letter.trip.status == "cancelled"
    same_hour = letter.key == key_for(night, letter.instructor)
    return night.closed_at is None and same_hour and not called_off


def _overdue(night: TripNight) -> str:
    hours = {"end": night.ends_at, "call_out": night.call_out_at}
    words = _(
        "“%(trip)s”: the night of %(date)s at %(site)s was to end at %(end)s. With %(drive)d min "
        "of driving and time in hand everybody should have been back by %(call_out)s (%(zone)s). "
        "Nobody has closed the night since."
    )
    clocks = {name: clock(instant, _zone(night)) for name, instant in hours.items()}
    return words % {**_names(night), **clocks, "drive": night.drive_minutes, "zone": _zone(night)}


def _then_the_contact(letter: Letter, night: TripNight) -> str:
    trip = letter.trip
    if not trip.contact_mail:
        return _("No mail of a contact at home is written down: nobody else is told.")
    words = _("If the night is not closed by %(time)s, %(name)s gets a letter that tells all this.")
    at = letter.due_at + timedelta(minutes=trip.contact_after_minutes)
    return words % {"time": clock(at, _zone(night)), "name": _contact(trip)}


def _what_rescuers_ask(night: TripNight) -> list[str]:
    return [
        _where(_("Where"), spot_decided(night)),
        _where(_("Or, the second spot"), night.second_spot) if _may_be_at_second(night) else "",
        _way(night),
        _cars(night),
        out_in_words(heads_of(night), night),
    ]


def _may_be_at_second(night: TripNight) -> bool:
    return night.second_spot is not None and spot_decided(night) != night.second_spot


def _where(title: str, spot: Spot | None) -> str:
    if spot is None:
        return ""
    site = spot.site
    lines = [
        f"{title}: {named(spot.name)}, {named(site.name)}",
        describe_position(spot.latitude, spot.longitude),
        geo_of(spot.latitude, spot.longitude),
    ]
    if site.nearest_help:
        lines.append(_("Nearest help: %(help)s") % {"help": site.nearest_help})
    if site.nearest_signal:
        lines.append(_("Nearest phone signal: %(signal)s") % {"signal": site.nearest_signal})
    return "\n".join(lines)


def _way(night: TripNight) -> str:
    spot = spot_decided(night)
    lines = [
        _("Way: they met at %(point)s at %(time)s.")
        % {"point": named(night.meeting_point), "time": clock(night.meeting_at, _zone(night))}
    ]
    if night.drive_minutes:
        lines.append(_("Drive back: %(minutes)d min.") % {"minutes": night.drive_minutes})
    if spot.walk_minutes:
        lines.append(_("On foot: %(minutes)d min.") % {"minutes": spot.walk_minutes})
    lines.extend(note for note in (spot.site.notes, spot.notes) if note)
    return "\n".join(lines)


def _cars(night: TripNight) -> str:
    driven = [drive.car.name for drive in night.drives.select_related("car")]
    cars = driven or [car.name for car in night.trip.cars.all()]
    if not cars:
        return _("Cars: none written down.")
    return "\n".join([_("Cars:"), *(f"– {named(car)}" for car in cars)])


def _no_rescue() -> str:
    return _(
        "Fieldnights is no rescue service: a machine wrote this letter, and nobody was called. "
        "Nobody sets out unless a person calls for help."
    )


def _contact(trip: Trip) -> str:
    return named(trip.contact_name or trip.contact_mail)


def _zone(night: TripNight) -> str:
    return str(night.spot.site.zone)


def _names(night: TripNight) -> dict[str, str]:
    return {
        "trip": named(night.trip.name),
        "site": named(spot_decided(night).site.name),
        "date": date_format(night.date, "l j F Y"),
    }
