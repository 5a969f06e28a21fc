"""The gear of people: read as values, added, changed, taken away, carried over from a trip before.

Errors of every deed: `SkyError` in the words of `almanac/wording.py`, and `RefusedError`.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from datetime import date

from django.db import transaction
from django.utils.translation import gettext as _

from trips.almanac.wording import SkyError
from trips.models import Enrolment, Loan, LoanItem, OwnGear, Trip
from trips.planning.gear import NAMES, Gear, Piece, read, written
from trips.services.briefs.anew import forget_plans
from trips.services.refusals import RefusedError

# Of a kind. Nobody carries more; a page of 999 lenses helps nobody.
MOST_OF_A_KIND = 30


def gear_of(enrolment: Enrolment) -> Gear:
    """Give what a person brings, and what is lent to them, in two queries."""
    return _gears([enrolment.pk])[enrolment.pk]


def gears_of(trip: Trip) -> dict[int, Gear]:
    """Give the gear of everybody with a place on a trip by enrolment, in three queries."""
    return _gears(trip.enrolments.with_a_place().values_list("pk", flat=True))


def piece_of(row: OwnGear | LoanItem) -> Piece | None:
    """Give the piece that a row tells of; None for one that no kind knows any more."""
    try:
        return read(row.kind, row.spec, name=row.name)
    except SkyError:
        return None


def _gears(enrolments: Iterable[int]) -> dict[int, Gear]:
    ids = list(enrolments)
    own: dict[int, list[Piece]] = defaultdict(list)
    for row in OwnGear.objects.filter(enrolment__in=ids):
        own[row.enrolment_id].extend(_known(row))
    lent: dict[int, list[tuple[date, Piece]]] = defaultdict(list)
    loans = Loan.objects.filter(enrolment__in=ids, is_granted=True)
    for loan in loans.select_related("item"):
        lent[loan.enrolment_id].extend((loan.evening, one) for one in _known(loan.item))
    return {pk: Gear(tuple(own[pk]), tuple(lent[pk])) for pk in ids}


def _known(row: OwnGear | LoanItem) -> Iterator[Piece]:
    piece = piece_of(row)
    if piece is not None:
        yield piece


@transaction.atomic
def add_piece(enrolment: Enrolment, piece: Piece) -> OwnGear:
    """Add a piece; the very same one again is the one that is there: a button pressed twice."""
    _locked(enrolment)
    kind, spec = NAMES[type(piece)], written(piece)
    of_kind = list(OwnGear.objects.filter(enrolment=enrolment, kind=kind))
    for row in of_kind:
        if (row.name, row.spec) == (piece.name, spec):
            return row
    if len(of_kind) >= MOST_OF_A_KIND:
        words = _("%(most)d of a kind are the most: remove one that stays at home.")
        raise RefusedError(words % {"most": MOST_OF_A_KIND})
    forget_plans(enrolment)
    return OwnGear.objects.create(enrolment=enrolment, kind=kind, name=piece.name, spec=spec)


@transaction.atomic
def change_piece(row: OwnGear, piece: Piece) -> None:
    row.kind, row.name, row.spec = NAMES[type(piece)], piece.name, written(piece)
    row.save(update_fields=["kind", "name", "spec"])
    forget_plans(row.enrolment)


@transaction.atomic
def remove_piece(enrolment: Enrolment, number: int) -> bool:
    """Take a piece away; one that is gone already is no mistake: a button pressed twice."""
    forget_plans(enrolment)
    gone, _of = OwnGear.objects.filter(enrolment=enrolment, pk=number).delete()
    return gone > 0


@transaction.atomic
def keep_small(enrolment: Enrolment, small: Mapping[str, Piece | None]) -> None:
    """Keep one piece each of kinds of which nobody brings several, or none.

    What is there already with more figures than were asked stays as it is.
    """
    _locked(enrolment)
    forget_plans(enrolment)
    for kind, piece in small.items():
        rows = OwnGear.objects.filter(enrolment=enrolment, kind=kind)
        if piece is None:
            rows.delete()
        elif not any(_says(row, piece) for row in rows):
            rows.delete()
            OwnGear.objects.create(enrolment=enrolment, kind=kind, spec=written(piece))


def _says(row: OwnGear, piece: Piece) -> bool:
    """Tell whether a row says all that a piece does."""
    return all(row.spec.get(name) == value for name, value in written(piece).items())


@transaction.atomic
def copy_gear(source: Enrolment, to: Enrolment) -> int:
    """Give the person's gear of an earlier trip to this one, where there is none yet."""
    _locked(to)
    if source.person_id != to.person_id or OwnGear.objects.filter(enrolment=to).exists():
        return 0
    forget_plans(to)
    rows = OwnGear.objects.filter(enrolment=source)
    copies = [OwnGear(enrolment=to, kind=row.kind, name=row.name, spec=row.spec) for row in rows]
    return len(OwnGear.objects.bulk_create(copies))


def carry_over(enrolment: Enrolment) -> None:
    """Give who joins what they brought on their latest trip; they look at it on their gear page."""
    before = gear_before(enrolment)
    if before is not None:
        copy_gear(before, enrolment)


def gear_before(enrolment: Enrolment) -> Enrolment | None:
    """Give the same person's latest other enrolment that has gear."""
    others = Enrolment.objects.filter(person=enrolment.person_id).exclude(pk=enrolment.pk)
    return others.filter(gear__isnull=False).order_by("-pk").first()


def _locked(enrolment: Enrolment) -> None:
    """Let nobody else count this person's gear before it is saved."""
    Enrolment.objects.select_for_update().get(pk=enrolment.pk)
