"""Deeds on lists of targets: a list is saved with its entries, or not at all."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from datetime import datetime

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils.translation import gettext as _

from trips.almanac.targets import (
    SkyError,
    find_target,
    listing_of,
    starter_entries,
    starter_words,
    usual_light,
)
from trips.almanac.wording import sentence
from trips.models import Organisation, TargetEntry, TargetList, User
from trips.numbers import in_figures
from trips.services import target_windows
from trips.services.editing import save_edited

MOST_ENTRIES = 200
# What a number of an entry may be, both ends included.
LIMITS = {
    "weight": (0.0, 1.0),
    "least_altitude_degrees": (-5.0, 90.0),
    "field_degrees": (0.1, 360.0),
}


@transaction.atomic
def save_list(
    target_list: TargetList, entries: Sequence[TargetEntry], *, by: User | None, now: datetime
) -> None:
    """Save the list with these entries in this order; stored ones that are not among them go.

    Targets may be named as people do ("M 31") and are stored by their keys. Windows that
    are missing then are asked for.
    Errors: `ValidationError` with a sentence for each entry that cannot be, `EditedMeanwhileError`.
    """
    check_entries(entries)
    if target_list.pk is None:
        target_list.save()
    else:
        save_edited(target_list)
    _refuse_foreign(target_list, entries)
    kept = [entry.pk for entry in entries if entry.pk]
    target_list.entries.exclude(pk__in=kept).delete()
    for order, entry in enumerate(entries):
        entry.target_list, entry.order = target_list, order
        entry.save()
    target_windows.request_list(target_list, by=by, now=now)


def check_entries(entries: Sequence[TargetEntry]) -> None:
    """Settle each entry's key and name, and refuse all of them in one go if any cannot be."""
    if not entries:
        raise ValidationError(_("A list without targets ranks nothing; name at least one."))
    if len(entries) > MOST_ENTRIES:
        words = _("A list has at most %(most)d targets; this one has %(count)d.")
        raise ValidationError(words % {"most": MOST_ENTRIES, "count": len(entries)})
    refused = [words for entry in entries for words in settle(entry)] + list(_twice(entries))
    if refused:
        raise ValidationError(refused)


def settle(entry: TargetEntry) -> list[str]:
    """Put the key and a name into an entry, and say what of it cannot be, in sentences."""
    refused = list(_out_of_limits(entry))
    try:
        target = find_target(entry.target)
    except SkyError as error:
        return [sentence(error), *refused]
    entry.target, entry.name = target.key, entry.name.strip() or target.name
    if entry.light and entry.light not in TargetEntry.Light.values:
        words = _("%(target)s: “%(light)s” is no light; it is one of %(lights)s, or empty.")
        lights = ", ".join(TargetEntry.Light.values)
        refused.append(words % {"target": entry.name, "light": entry.light[:20], "lights": lights})
    longest = TargetEntry._meta.get_field("name").max_length or 0
    if len(entry.name) > longest:
        words = _("%(target)s…: a name has at most %(most)d characters.")
        refused.append(words % {"target": entry.name[:20], "most": longest})
    return refused


@transaction.atomic
def copy_starter(
    organisation: Organisation, name: str, *, by: User | None, now: datetime
) -> TargetList:
    """Make a list to begin with the organisation's own. Errors: `SkyError` for its name."""
    entries = starter_entries(name)
    copy = TargetList(organisation=organisation, name=free_name(organisation, starter_words(name)))
    save_list(copy, entries, by=by, now=now)
    return copy


@transaction.atomic
def add_target(
    target_list: TargetList, text: str, *, by: User | None, now: datetime
) -> TargetEntry:
    """Put one target at the end of a list, which may be new, with the field it wants.

    Errors: `SkyError` for the target, and those of `save_list`.
    """
    target = find_target(text)
    listing = listing_of(target.key)
    entry = TargetEntry(target=target.key, field_degrees=listing.field_degrees if listing else None)
    present = target_list.entries.all() if target_list.pk else ()
    save_list(target_list, [*present, entry], by=by, now=now)
    return entry


@transaction.atomic
def archive_list(target_list: TargetList, *, now: datetime) -> None:
    """Take the list out of the choices.

    Errors: `ValidationError` while a season wants it, `EditedMeanwhileError`.
    """
    wanting = [season.name for season in target_list.seasons.current()]
    if wanting:
        words = _("%(seasons)s wants this list: choose another there, or archive it first.")
        raise ValidationError(words % {"seasons": ", ".join(f"“{name}”" for name in wanting)})
    target_list.archived_at = now
    save_edited(target_list)


def _out_of_limits(entry: TargetEntry) -> Iterator[str]:
    for name, (low, high) in LIMITS.items():
        value = getattr(entry, name)
        if value is not None and not (math.isfinite(value) and low <= value <= high):
            words = _("%(target)s: %(field)s %(value)s must be from %(low)s to %(high)s.")
            label = TargetEntry._meta.get_field(name).verbose_name  # type: ignore[union-attr]
            yield words % {
                "target": entry.name or entry.target,
                "field": label,
                "value": in_figures(value),
                "low": in_figures(low),
                "high": in_figures(high),
            }


def _twice(entries: Sequence[TargetEntry]) -> Iterator[str]:
    """Find targets that are wanted in the same light twice, said or as usual."""
    seen: set[tuple[str, str]] = set()
    for entry in entries:
        try:
            wanted = (entry.target, entry.light or usual_light(entry.target))
        except SkyError:
            continue
        if wanted in seen:
            words = _("%(target)s is in the list twice in the same light; keep one of the two.")
            yield words % {"target": entry.name}
        seen.add(wanted)


def _refuse_foreign(target_list: TargetList, entries: Sequence[TargetEntry]) -> None:
    """Refuse an entry that is stored with another list, whoever's that is."""
    own = set(target_list.entries.values_list("pk", flat=True))
    for entry in entries:
        if entry.pk and entry.pk not in own:
            raise ValidationError(_("“%(entry)s” belongs to another list.") % {"entry": entry.name})


def free_name(organisation: Organisation, wanted: str) -> str:
    taken = set(
        TargetList.objects.current()
        .filter(organisation=organisation)
        .values_list("name", flat=True)
    )
    numbered = (f"{wanted} ({number})" for number in range(2, len(taken) + 3))
    return next(name for name in (wanted, *numbered) if name not in taken)
