"""A night's brief behind a person's own link: read on a phone, kept there, taken along."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.templatetags.static import static
from django.urls import NoReverseMatch, reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_safe

from trips.almanac.local_time import clock, local
from trips.looks import looks
from trips.models import Enrolment, Trip, TripNight
from trips.models.enrolment import COMING
from trips.planning.brief.parts import AT_HOME, IN_THE_FIELD
from trips.services.briefs import one_file
from trips.services.briefs.as_pdf import as_pdf
from trips.services.briefs.as_text import as_text
from trips.services.briefs.reading import Reading, published, read
from trips.services.refusals import RefusedError
from trips.services.removed_nights import is_removed, moved_to
from trips.views.link_doors import by_link, reader_by

# The looks that a thumb can choose out there.
THUMB = (("paper", _("Paper")), ("night", _("Red")), ("grey", _("Grey")))
# What the pages of a link need to be shown without signal.
FILES = (
    "trips/looks.css", "trips/brief.css", "trips/brief_pictures.css", "trips/brief.js",
    "trips/keeping.js", "trips/icon.svg", "vendor/pico/pico.min.css", "trips/look.css",
    "trips/link.css", "trips/forms.css", "trips/place.css", "trips/sending.js", "trips/copying.js",
)  # fmt: skip


@require_safe
@by_link
def brief_read(request: HttpRequest, token: str, evening: date) -> HttpResponse:
    enrolment = holder_by(token)
    reading = read(enrolment, evening)
    if reading is None:
        return _not_yet(request, token, enrolment, evening)
    context = _context(token, enrolment, evening, reading) | _look(request, reading)
    return render(request, "trips/brief_read.html", context)


@require_safe
@by_link
def brief_file(request: HttpRequest, token: str, evening: date) -> HttpResponse:  # noqa: ARG001
    """Give the same as one file, which needs nothing else."""
    reading = reading_by(token, evening)
    response = HttpResponse(one_file.one_file(reading))
    name = one_file.NAME % {"evening": evening.isoformat(), "number": reading.number}
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response


@require_safe
@by_link
def brief_pdf(request: HttpRequest, token: str, evening: date) -> HttpResponse:
    """Give it on a sheet, with a code that leads back to the page."""
    reading = reading_by(token, evening)
    page = request.build_absolute_uri(reverse("brief_read", args=[token, evening]))
    try:
        pdf = as_pdf(reading, address=page)
    except RefusedError as error:
        return HttpResponse(error.sentence, status=503, content_type="text/plain; charset=utf-8")
    return HttpResponse(pdf, content_type="application/pdf")


@require_safe
@by_link
def brief_text(request: HttpRequest, token: str, evening: date) -> HttpResponse:  # noqa: ARG001
    said = as_text(reading_by(token, evening).facts)
    return HttpResponse(said, content_type="text/plain; charset=utf-8")


@require_safe
@by_link
def place_worker(request: HttpRequest, token: str) -> HttpResponse:
    """The script that keeps a person's pages on the phone: under their link, and for nothing
    else. It names the versions: with a new one browsers fetch all of it anew."""
    enrolment = reader_by(token)
    nights = published(enrolment) if enrolment.state in COMING else []
    pages = [reverse("place", args=[token])]
    pages += [reverse("brief_read", args=[token, night.evening]) for night in nights]
    kept = [*pages, *(static(name) for name in FILES)]
    versions = ", ".join(f"{night.evening}: {night.number}" for night in nights)
    context = {"kept": kept, "versions": versions}
    return render(request, "trips/offline_worker.js", context, content_type="text/javascript")


def reading_by(token: str, evening: date) -> Reading:
    """Give what the holder of a link reads of a night; no page where nothing is published."""
    reading = read(holder_by(token), evening)
    if reading is None:
        raise Http404
    return reading


def holder_by(token: str) -> Enrolment:
    """Give the enrolment of a link that has a place: a brief is for those who come."""
    enrolment = reader_by(token)
    if enrolment.state not in COMING:
        raise Http404
    return enrolment


def _context(token: str, enrolment: Enrolment, evening: date, reading: Reading) -> dict[str, Any]:
    when = reading.published_at
    zone = reading.facts["zone"]
    return {
        "token": token,
        "evening": evening,
        "reading": reading,
        "facts": reading.facts,
        "parts": [reading.parts[name] for name in AT_HOME],
        "in_the_field": " ".join(IN_THE_FIELD),
        "published": f"{clock(when, zone)}, {date_format(local(when, zone), 'j F')}",
        "is_cancelled": enrolment.trip.status == Trip.Status.CANCELLED,
        "has_pdf": _has_pdf(),
        "thumb": THUMB,
    }


def _look(request: HttpRequest, reading: Reading) -> dict[str, Any]:
    """Give the look that was chosen, else red from sunset till people are home: where there is no
    script, and where a script comes after the first paint, a white page blinds as well."""
    if chosen := looks(request)["look"]:
        return {"look": chosen}
    facts, now = reading.facts, timezone.now().timestamp()
    home = facts["home_at"] or facts["ends_at"]
    if facts["sunset_at"] is not None and facts["sunset_at"] <= now < home:
        return {"look": "night", "is_offered": True}
    return {"look": ""}


def _has_pdf() -> bool:
    try:
        reverse("brief_pdf", args=["token", date(2027, 6, 5)])
    except NoReverseMatch:
        return False
    return True


def _not_yet(request: HttpRequest, token: str, enrolment: Enrolment, evening: date) -> HttpResponse:
    nights = TripNight.objects.select_related("trip", "spot__site").filter(trip=enrolment.trip_id)
    night = nights.filter(date=evening).first()
    if night is None:
        return _taken_off(request, token, enrolment, evening)
    context = {"token": token, "night": night, "trip": night.trip, "zone": night.spot.site.zone}
    return render(request, "trips/brief_not_yet.html", context)


def _taken_off(
    request: HttpRequest, token: str, enrolment: Enrolment, evening: date
) -> HttpResponse:
    """Say of a night that was one that it is none any more; a phone keeps that instead of it."""
    trip = enrolment.trip
    to = moved_to(trip, evening)
    if to is None and not is_removed(trip, evening):
        raise Http404
    context = {"token": token, "evening": evening, "trip": trip, "moved_to": to}
    return render(request, "trips/brief_taken_off.html", context)
