"""An instructor's own words in a part of a brief: beside what is computed, or instead of it."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction
from django.utils.translation import gettext as _

from trips.models import BriefNote, TripNight, User
from trips.models.brief import LONGEST_NOTE
from trips.planning.brief.parts import PARTS
from trips.services.refusals import RefusedError
from trips.services.trip_history import note

# What nobody writes over: whom to ring in need, and who has the last word out there. What is
# known of dangers stays too, and is only added to.
ONLY_ADDED_TO = frozenset({"dangers", "cautions", "help", "rules"})


def save_note(
    night: TripNight,
    part: str,
    *,
    text: str,
    is_instead: bool,
    version: int,
    by: User,
    now: datetime,
) -> None:
    """Keep what was written into a part; an empty text takes it away.

    `version` is that of the note that the editor saw, 0 where there was none. Errors:
    `RefusedError`, also where somebody else saved meanwhile.
    """
    words = text.replace("\r\n", "\n").strip()
    _refuse(part, words, is_instead=is_instead)
    with transaction.atomic():
        TripNight.objects.select_for_update().get(pk=night.pk)
        found = BriefNote.objects.filter(night=night, part=part).first()
        if found is None and not words:
            return
        if found and (found.text, found.is_instead) == (words, is_instead):
            return
        if (found.version if found else 0) != version:
            raise RefusedError(
                _(
                    "Somebody else wrote into this part meanwhile. Nothing that you typed is lost: "
                    "save again to put yours in its place."
                )
            )
        _keep(found or BriefNote(night=night, part=part, version=0), words, is_instead)
        note(night.trip, "brief_note", at=now, by=by, date=f"{night.date}", part=part)


def _refuse(part: str, words: str, *, is_instead: bool) -> None:
    if len(words) > LONGEST_NOTE:
        given = _("%(length)d characters are too many: a part holds %(most)d.")
        raise RefusedError(given % {"length": len(words), "most": LONGEST_NOTE})
    if "\0" in words:
        raise RefusedError(_("There is a character in it that cannot be kept: type it again."))
    if is_instead and part in ONLY_ADDED_TO:
        title = PARTS[part].title
        given = _("“%(part)s” keeps people safe: add to it, but leave what stands there.")
        raise RefusedError(given % {"part": title})


def _keep(row: BriefNote, words: str, is_instead: bool) -> None:
    if not words:
        row.delete()
        return
    row.text, row.is_instead, row.version = words, is_instead, row.version + 1
    row.save()
