"""All kinds of letters by name. A new kind is a function in `letter_kinds/` and its line there."""

from __future__ import annotations

from trips.services.letter_kinds.briefs import BRIEFS
from trips.services.letter_kinds.call_outs import CALL_OUTS
from trips.services.letter_kinds.nights import NIGHTS
from trips.services.letter_kinds.places import PLACES
from trips.services.letter_kinds.post import Kind
from trips.services.letter_kinds.reminders import REMINDERS

LETTERS: dict[str, Kind] = {**PLACES, **NIGHTS, **BRIEFS, **REMINDERS, **CALL_OUTS}
