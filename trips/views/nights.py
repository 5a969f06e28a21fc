"""One night at one site, with why something is absent."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_safe

from trips.almanac.dates import FIRST_DAY, LAST_DAY
from trips.almanac.fingerprint import site_fingerprint
from trips.models import Night, Season, Site
from trips.views.members import member

ONE_DAY = timedelta(days=1)
# Later, the leap seconds to come are a guess.
LAST_EXACT_YEAR = 2035

EVENTS = {
    "sunset": _("Sunset"),
    "civil_dusk": _("Civil dusk, Sun 6° down"),
    "nautical_dusk": _("Nautical dusk, Sun 12° down"),
    "astronomical_dusk": _("Astronomical dusk, Sun 18° down"),
    "astronomical_dawn": _("Astronomical dawn, Sun 18° down"),
    "nautical_dawn": _("Nautical dawn, Sun 12° down"),
    "civil_dawn": _("Civil dawn, Sun 6° down"),
    "sunrise": _("Sunrise"),
}


@dataclass(frozen=True, slots=True)
class Event:
    """A thing that happens at some instants of the night, or a word why it does not."""

    name: str
    instants: list[datetime | float]
    absent: str | None


@dataclass(frozen=True, slots=True)
class Level:
    """Dark and moonless at one dark level, with words for what is absent."""

    name: str
    dark: list[list[float]]
    dark_hours: float
    dark_absent: str | None
    moonless: list[list[float]]
    moonless_hours: float
    moonless_absent: str | None


@require_safe
@login_required
def night_detail(request: HttpRequest, site_id: int, night: date) -> HttpResponse:
    if not FIRST_DAY <= night <= LAST_DAY:
        raise Http404
    site = get_object_or_404(Site.objects.for_member(member(request)), pk=site_id)
    row = Night.objects.filter(site=site, date=night).first()
    context = {
        "site": site,
        "date": night,
        "night": row,
        "previous": night - ONE_DAY if night > FIRST_DAY else None,
        "next": night + ONE_DAY if night < LAST_DAY else None,
        "seasons": site.seasons.current(),
        "hazards": site.hazards.all(),
        "inexact": night.year > LAST_EXACT_YEAR,
    }
    if row:
        context |= {"sun": _sun(row), "moon": _moon(row), "levels": _levels(row)}
        context["stale"] = row.fingerprint != site_fingerprint(site)
    return render(request, "trips/night_detail.html", context)


def _sun(night: Night) -> list[Event]:
    return [
        Event(str(label), [instant] if (instant := getattr(night, name)) else [], _why(night, name))
        for name, label in EVENTS.items()
    ]


def _moon(night: Night) -> list[Event]:
    return [
        Event(str(_("Moonrise")), night.moonrises, _why(night, "moonrise")),
        Event(str(_("Moonset")), night.moonsets, _why(night, "moonset")),
    ]


def _levels(night: Night) -> list[Level]:
    return [_level(night, -level.value, str(level.label)) for level in Season.DarkLevel]


def _level(night: Night, depth: int, name: str) -> Level:
    suffix = "" if depth == 18 else f"_{depth}"
    return Level(
        name=name,
        dark=getattr(night, f"dark_{depth}"),
        dark_hours=getattr(night, f"dark_hours_{depth}"),
        dark_absent=_why(night, f"dark{suffix}"),
        moonless=getattr(night, f"moonless_{depth}"),
        moonless_hours=getattr(night, f"moonless_hours_{depth}"),
        moonless_absent=_why(night, f"moonless{suffix}"),
    )


def _why(night: Night, name: str) -> str | None:
    word: str | None = night.absent.get(name)
    return word
