"""My gear, behind a person's own link: what each lens can do on a night, and what is lacking."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.dateparse import parse_date
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_safe

from trips.almanac.lens_tonight import lens_tonight
from trips.almanac.lens_tonight_words import LensAnswer, answer_words
from trips.almanac.tonight import Tonight
from trips.forms.gear import GearForm, gear_form
from trips.forms.small_gear import SmallGearForm, said_of
from trips.models import Enrolment, Loan, LoanItem, OwnGear, SiteMonth, TripNight
from trips.models.enrolment import OVER
from trips.planning.gear import NAMES, Camera, Gear, Lens, Piece
from trips.planning.gear_check import Finding, Plan, Verdict, check, short
from trips.services.gear import gear_before, gear_of, piece_of
from trips.services.gear_nights import entries_of, next_night, plan_of, tonight_of
from trips.services.gear_rigs import OwnRig, rigs_of
from trips.services.loans import free_for, kit_of, loans_of
from trips.services.night_times import spot_decided
from trips.templatetags.gear import piece_title
from trips.views.link_doors import by_link, enrolment_by

SAID = {
    "added": gettext_lazy("It is added."),
    "changed": gettext_lazy("It is changed."),
    "removed": gettext_lazy("It is taken off your gear."),
    "gone": gettext_lazy("That piece was taken off already."),
    "kept": gettext_lazy("It is kept."),
    "copied": gettext_lazy("Taken over from your earlier trip: look whether it is still right."),
    "asked": gettext_lazy("Asked for: those who lead the trip see it, and answer here."),
    "not_lent": gettext_lazy("The club lends that no more: choose another piece."),
    "withdrawn": gettext_lazy("You no longer ask for it."),
}
# The parts of the page where one asks by itself; the rest is in the form of small things.
SECTIONS = {"camera": "cameras", "lens": "lenses", "support": "support", "tracker": "tracker"}


@dataclass(frozen=True, slots=True)
class RigLine:
    """What a lens can do on a camera; `named` says which camera or end where there are several."""

    named: str
    answer: LensAnswer


@dataclass(frozen=True, slots=True)
class PieceLine:
    """A piece that a person brings: `number` of its row, None of what is lent."""

    number: int | None
    piece: Piece
    rigs: tuple[RigLine, ...] = ()
    lacks_own_lens: bool = False

    @property
    def anchor(self) -> str:
        return f"piece-{self.number}"


@dataclass(frozen=True, slots=True)
class LoanLine:
    """A piece that was asked for, with the evenings by how they were answered."""

    item: LoanItem
    loans: tuple[Loan, ...]


@require_safe
@by_link
def my_gear(request: HttpRequest, token: str) -> HttpResponse:
    enrolment = enrolment_by(token)
    if is_elsewhere(enrolment):
        return redirect("place", token)
    return gear_page(request, token, enrolment)


def is_elsewhere(enrolment: Enrolment) -> bool:
    """Tell whether gear is not asked yet, or no more: the person's own page says how it stands."""
    return enrolment.state in (Enrolment.State.ASKED, *OVER)


def gear_page(
    request: HttpRequest, token: str, enrolment: Enrolment, *, refusal: str = "",
    small: SmallGearForm | None = None,
) -> HttpResponse:  # fmt: skip
    now, trip = timezone.now(), enrolment.trip
    nights = list(trip.nights.select_related("spot__site", "second_spot__site"))
    night = night_asked(request.GET.get("night", ""), nights, now=now)
    gear = gear_of(enrolment)
    entries = entries_of(trip, night) if night else []
    sky = tonight_of(trip, night, entries) if night else None
    context: dict[str, Any] = {
        "token": token,
        "enrolment": enrolment,
        "trip": trip,
        "nights": nights,
        "night": night,
        "said": SAID.get(request.GET.get("said", ""), ""),
        "said_at": request.GET.get("at", ""),
        "refusal": refusal,
        "small": small or SmallGearForm(initial=said_of(gear), label_suffix=""),
        "before": gear_before(enrolment) if not gear.own else None,
        "sky": sky,
        **_pieces(enrolment, gear.on(night.date) if night else Gear(gear.own), sky),
        **_checked(gear, plan_of(trip, nights, _months(nights), entries)),
        **_kit(enrolment, [one for one in nights if one.ends_at > now]),
    }
    return render(request, "trips/my_gear.html", context)


def night_asked(text: str, nights: Sequence[TripNight], *, now: datetime) -> TripNight | None:
    """Give the night that the address names, else the one that is on or comes next."""
    asked = read_date(text)
    named = (night for night in nights if night.date == asked)
    return next(named, None) or next_night(nights, now=now)


def read_date(text: str) -> date | None:
    try:
        return parse_date(text)
    except ValueError:  # well written, and no day of the calendar
        return None


def _pieces(enrolment: Enrolment, gear: Gear, sky: Tonight | None) -> dict[str, Any]:
    """Sort what a person has under its headings, the lenses with what they can do."""
    rigs = list(rigs_of(gear))
    lines = [
        PieceLine(row.pk, piece, _rigs(piece, rigs, sky), _lacks_own_lens(piece, gear))
        for row in OwnGear.objects.filter(enrolment=enrolment)
        if (piece := piece_of(row))
    ]
    lines += [PieceLine(None, piece, _rigs(piece, rigs, sky)) for _evening, piece in gear.lent]
    return {
        "lines": {kind: list(_of_kind(lines, kind)) for kind in SECTIONS},
        "own_small": [one.piece for one in lines if one.number and not _is_large(one)],
        "lent_small": [one.piece for one in lines if one.number is None and not _is_large(one)],
        "new_camera": _first_form("camera") if not gear.cameras else None,
        "new_lens": gear_form("lens", auto_id="new_%s"),
    }


def _lacks_own_lens(piece: Piece, gear: Gear) -> bool:
    """Tell whether a piece is a phone of whose lens nothing is said: no other goes on it."""
    is_phone = isinstance(piece, Camera) and piece.is_phone
    return is_phone and not any(lens.is_of_a_phone for lens in gear.lenses)


def _first_form(kind: str) -> GearForm:
    return gear_form(kind, auto_id="first_%s")


def _of_kind(lines: Sequence[PieceLine], kind: str) -> Iterator[PieceLine]:
    return (one for one in lines if kind_of(one.piece) == kind)


def _is_large(one: PieceLine) -> bool:
    return kind_of(one.piece) in SECTIONS


def _rigs(piece: Piece, rigs: Sequence[OwnRig], sky: Tonight | None) -> tuple[RigLine, ...]:
    """Give what a lens can do on each camera that takes it, at each end of a zoom."""
    if sky is None or not isinstance(piece, Lens):
        return ()
    mine = [one for one in rigs if one.lens == piece]
    cameras = {id(one.camera) for one in mine}
    return tuple(
        RigLine(
            ", ".join(_named(one, piece, on_several=len(cameras) > 1)),
            answer_words(lens_tonight(one.rig, sky.targets), sky),
        )
        for one in mine
    )


def _named(one: OwnRig, lens: Lens, *, on_several: bool) -> Iterator[str]:
    if lens.longest_mm is not None:
        yield f"{one.rig.lens.focal_mm:g} mm"
    if on_several:
        yield piece_title(one.camera)


def _months(nights: Sequence[TripNight]) -> QuerySet[SiteMonth]:
    months: QuerySet[SiteMonth] = SiteMonth.objects.filter(
        site__in={spot_decided(night).site_id for night in nights}
    )
    return months


def _checked(gear: Gear, plan: Plan) -> dict[str, Any]:
    """Sort what there is to say of the gear by how much it matters."""
    findings = check(gear, plan)
    return {
        "short": [one for one in findings if one.is_short],
        "weak": _with(findings, Verdict.WEAK),
        "unknown": _with(findings, Verdict.UNKNOWN),
        "good": _with(findings, Verdict.GOOD),
        "lacking": short(findings),
    }


def _kit(enrolment: Enrolment, coming: Sequence[TripNight]) -> dict[str, Any]:
    """Say what was asked of the club, and what else it can lend."""
    free = free_for(kit_of(enrolment.trip), coming, enrolment) if coming else []
    return {"loans": list(_loan_lines(loans_of(enrolment))), "free": free}


def _with(findings: Sequence[Finding], verdict: Verdict) -> list[Finding]:
    return [one for one in findings if one.verdict is verdict]


def _loan_lines(loans: Sequence[Loan]) -> Iterator[LoanLine]:
    for item in dict.fromkeys(loan.item for loan in loans):
        yield LoanLine(item, tuple(loan for loan in loans if loan.item_id == item.pk))


def place_of_piece(kind: str, number: int) -> str:
    """Give where on the page a piece stands: its own line, or the form of small things."""
    return f"piece-{number}" if kind in SECTIONS else "small"


def kind_of(piece: Piece) -> str:
    return NAMES[type(piece)]
