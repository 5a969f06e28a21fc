"""The club's loan kit: who asked for which piece, who has it on which evening.

A piece goes to one person an evening, whatever the trip: a constraint holds it. What was lent to
somebody who then gave the place back, or for a trip that was cancelled, is free again.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, datetime

from django.db import IntegrityError, transaction
from django.db.models import F, FilteredRelation, Q, QuerySet
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from trips.models import Enrolment, Loan, LoanItem, Trip, TripNight, User
from trips.planning.gear import Piece, written
from trips.planning.gear.kinds import NAMES
from trips.services.briefs.anew import forget_plans, forget_plans_of
from trips.services.editing import save_edited
from trips.services.refusals import RefusedError
from trips.services.trip_history import note

IN_VAIN = Q(enrolment__place=None) | Q(night__trip__status=Trip.Status.CANCELLED)


@transaction.atomic
def save_item(item: LoanItem, piece: Piece) -> None:
    """Save a piece of the kit. Errors: `RefusedError` for a name twice, `EditedMeanwhileError`."""
    item.kind, item.name, item.spec = NAMES[type(piece)], piece.name, written(piece)
    same = LoanItem.objects.current().filter(organisation=item.organisation, name=item.name)
    if same.exclude(pk=item.pk).exists():
        words = _("There is already “%(name)s” in the loan kit; give this piece another name.")
        raise RefusedError(words % {"name": item.name})
    if item.pk is None:
        item.save()
    else:
        save_edited(item)


@transaction.atomic
def archive_item(item: LoanItem, *, now: datetime) -> None:
    """Take a piece out of the kit; what it was lent for before stays written."""
    item.archived_at = now
    save_edited(item)
    for loan in Loan.objects.filter(item=item, night__ends_at__gt=now).select_related("enrolment"):
        forget_plans(loan.enrolment)
        loan.delete()


@transaction.atomic
def ask(item: LoanItem, enrolment: Enrolment, nights: Iterable[TripNight]) -> int:
    """Ask for a piece for those nights of the trip on which it is free; give how many.

    Asked twice is asked once; what was refused stays so. Errors: `RefusedError`.
    """
    _refuse_foreign(item, enrolment)
    asked = list(nights)
    granted = _granted(item, asked).exclude(IN_VAIN)
    taken = set(granted.values_list("evening", flat=True))
    mine = set(Loan.objects.filter(item=item, enrolment=enrolment).values_list("night", flat=True))
    free = [night for night in asked if night.date not in taken and night.pk not in mine]
    if not free and not mine:
        words = _("%(item)s is lent to somebody else on every one of these nights.")
        raise RefusedError(words % {"item": item.name})
    rows = [
        Loan(item=item, night=night, evening=night.date, enrolment=enrolment, is_granted=False)
        for night in free
    ]
    return len(Loan.objects.bulk_create(rows, ignore_conflicts=True))


@transaction.atomic
def withdraw(enrolment: Enrolment, number: int) -> bool:
    """Ask no more for a piece, or give it back; one that is gone already is no mistake."""
    forget_plans(enrolment)
    gone, _of = Loan.objects.filter(enrolment=enrolment, pk=number).delete()
    return gone > 0


def lend(
    item: LoanItem, night: TripNight, enrolment: Enrolment, *, by: User, now: datetime
) -> Loan:
    """Promise a piece for a night, asked for or not. Errors: `RefusedError`."""
    _refuse_foreign(item, enrolment)
    if enrolment.place is None:
        raise RefusedError(_("Only who has a place can be lent something."))
    try:
        with transaction.atomic():
            LoanItem.objects.select_for_update().get(pk=item.pk)  # one after the other
            granted = _granted(item, [night])
            lent: Loan | None = granted.filter(night=night, enrolment=enrolment).first()
            if lent is not None:  # a button pressed twice
                return lent
            granted.filter(IN_VAIN).delete()
            loan, _made = Loan.objects.update_or_create(
                item=item, night=night, enrolment=enrolment,
                defaults={"evening": night.date, "is_granted": True, "refused_at": None},
            )  # fmt: skip
            _note(loan, "loan_granted", by=by, now=now)
            forget_plans(enrolment)
            return loan
    except IntegrityError:
        raise RefusedError(_lent_already(item, night)) from None


def lend_all(item: LoanItem, enrolment: Enrolment, *, by: User, now: datetime) -> int:
    """Promise a piece for all nights to come on which it is free; give how many.

    Errors: `RefusedError`, where it is free on none.
    """
    coming = list(enrolment.trip.nights.filter(ends_at__gt=now))
    granted = _granted(item, coming).exclude(IN_VAIN).exclude(enrolment=enrolment)
    taken = set(granted.values_list("evening", flat=True))
    free = [night for night in coming if night.date not in taken]
    if not free:
        words = _("%(item)s is free on none of the nights to come.")
        raise RefusedError(words % {"item": item.name})
    with transaction.atomic():
        return len([lend(item, night, enrolment, by=by, now=now) for night in free])


@transaction.atomic
def refuse(loan: Loan, *, by: User, now: datetime) -> None:
    """Say no, or take back what was promised; the person is shown it."""
    loan.is_granted, loan.refused_at = False, now
    loan.save(update_fields=["is_granted", "refused_at"])
    _note(loan, "loan_refused", by=by, now=now)
    forget_plans(loan.enrolment)


@transaction.atomic
def follow_night(night: TripNight) -> None:
    """Move a night's loans to its evening; where a piece is lent there already, only ask for it."""
    for loan in Loan.objects.filter(night=night).exclude(evening=night.date):
        is_taken = _granted(loan.item, [night]).exclude(pk=loan.pk).exists()
        loan.evening, loan.is_granted = night.date, loan.is_granted and not is_taken
        loan.save(update_fields=["evening", "is_granted"])
    forget_plans_of(night)


def loans_of(enrolment: Enrolment) -> list[Loan]:
    """Give what a person asked for and was lent. One query."""
    return list(Loan.objects.filter(enrolment=enrolment).select_related("item", "night"))


def coming_loans(items: Iterable[LoanItem], *, now: datetime) -> list[Loan]:
    """Give the loans of pieces for nights that are not over, promised or asked for. One query."""
    of_these = Loan.objects.filter(item__in=list(items), night__ends_at__gt=now).exclude(IN_VAIN)
    return list(of_these.select_related("enrolment__person", "night__trip"))


def kit_with_loans(trip: Trip, evenings: Iterable[date]) -> tuple[list[LoanItem], list[Loan]]:
    """Give the kit of a trip's club, and its loans of some evenings, of any trip. One query."""
    wanted = Q(loans__evening__in=list(evenings))
    kit = LoanItem.objects.filter(organisation=trip.organisation_id, archived_at=None)
    joined = kit.annotate(of_evening=FilteredRelation("loans", condition=wanted))
    names = ("pk", "night", "evening", "enrolment", "is_granted", "refused_at")
    columns = {f"loan_{name}": F(f"of_evening__{name}") for name in names}
    items: dict[int, LoanItem] = {}
    loans = []
    for row in joined.annotate(**columns).order_by("kind", "name", "loan_evening", "loan_pk"):
        item = items.setdefault(row.pk, row)
        if row.loan_pk is not None:
            loans.append(
                Loan(
                    pk=row.loan_pk, item=item, night_id=row.loan_night, evening=row.loan_evening,
                    enrolment_id=row.loan_enrolment, is_granted=row.loan_is_granted,
                    refused_at=row.loan_refused_at,
                )
            )  # fmt: skip
    return list(items.values()), loans


def kit_of(trip: Trip) -> list[LoanItem]:
    return list(LoanItem.objects.current().filter(organisation=trip.organisation_id))


def free_for(
    kit: Sequence[LoanItem], nights: Sequence[TripNight], enrolment: Enrolment
) -> list[LoanItem]:
    """Give the pieces that are free on one of the nights at least and that the person has not
    asked for. One query."""
    evenings = {night.date for night in nights}
    taken: dict[int, set[object]] = {}
    asked = set()
    for loan in Loan.objects.filter(item__in=[one.pk for one in kit]).exclude(IN_VAIN):
        if loan.is_granted and loan.enrolment_id != enrolment.pk:
            taken.setdefault(loan.item_id, set()).add(loan.evening)
        elif loan.enrolment_id == enrolment.pk:
            asked.add(loan.item_id)
    return [one for one in kit if one.pk not in asked and evenings - taken.get(one.pk, set())]


def _granted(item: LoanItem, nights: Iterable[TripNight]) -> QuerySet[Loan]:
    evenings = [night.date for night in nights]
    granted: QuerySet[Loan] = Loan.objects.filter(item=item, evening__in=evenings, is_granted=True)
    return granted


def _refuse_foreign(item: LoanItem, enrolment: Enrolment) -> None:
    if item.organisation_id != enrolment.trip.organisation_id or item.archived_at is not None:
        raise RefusedError(_("That piece is not in this club’s loan kit any more."))


def _lent_already(item: LoanItem, night: TripNight) -> str:
    has_it = _granted(item, [night]).select_related("enrolment__person").first()
    words = _("%(item)s is lent to %(person)s on %(evening)s: take it back there first.")
    return words % {
        "item": item.name,
        "person": has_it.enrolment.person.name if has_it else _("somebody else"),
        "evening": date_format(night.date, "l j F"),
    }


def _note(loan: Loan, what: str, *, by: User, now: datetime) -> None:
    trip, day = loan.night.trip, f"{loan.evening}"
    note(trip, what, at=now, by=by, enrolment=loan.enrolment, item=loan.item_id, date=day)
