"""What somebody else saved while a form was open: taken over where this editor changed nothing,
shown beside what was typed where both did. The rule is `services/merging.py`."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.http import QueryDict
from django.utils.translation import gettext as _

from trips.forms.layout import Mistake, first_id, in_words, plain
from trips.models import TripNight, Versioned
from trips.services.merging import Merge, merge

OPENED = "opened"  # the name of the hidden field that carries what the editor saw


@dataclass(frozen=True, slots=True)
class Meanwhile:
    """What another editor did: field name → its words now where both changed it, and name → label
    of what was taken over."""

    stored: Mapping[str, str]
    taken: Mapping[str, str]
    clashing_rows: bool = False

    @property
    def is_clash(self) -> bool:
        return bool(self.stored) or self.clashing_rows

    def told(self, form: forms.BaseForm) -> list[Mistake]:
        """Tell the second editor what happened and which fields both changed."""
        if not self.is_clash:
            return []
        words = _(
            "Somebody else saved it while you were editing, and both of you changed what is named "
            "here. Nothing that you typed is lost: save again to put yours in its place."
        )
        return [Mistake("", "", words)] + [
            Mistake(f"#{first_id(form[name])}", str(form[name].label), _now(value))
            for name, value in self.stored.items()
        ]

    def taken_over(self) -> str:
        """Say which fields are as the other editor saved them; "" where there are none."""
        if not self.taken:
            return ""
        words = _("Somebody else saved it meanwhile; taken over from there: %(fields)s.")
        return words % {"fields": ", ".join(self.taken.values())}

    def with_rows(self, rows: Merge, label: str) -> Meanwhile:
        """Give the same with the rows below the form, which are told as one."""
        taken = {**self.taken, "rows": label} if rows.taken else self.taken
        return Meanwhile(self.stored, taken, clashing_rows=bool(rows.clashing))


NOBODY = Meanwhile({}, {})


def is_behind(typed: QueryDict, row: Versioned | TripNight) -> bool:
    """Tell whether somebody saved the row after this form was opened."""
    return typed.get("version", "") not in ("", str(row.version))


def values_of(form: Any) -> dict[str, str]:
    """Give the stored values of the form's row as text, so that they can be compared."""
    row = forms.model_to_dict(form.instance, fields=list(form._meta.fields))
    return {name: plain(row[name]) for name in form._meta.fields}


def written(values: Mapping[str, str]) -> str:
    """Write what the editor sees for a hidden field."""
    return json.dumps(values, ensure_ascii=False)


def read_opened(text: str) -> dict[str, str] | None:
    """Read what `written` wrote; None where it cannot be read."""
    try:
        values = json.loads(text)
    except (ValueError, RecursionError):
        return None
    if not isinstance(values, dict):
        return None
    return {str(name): str(value) for name, value in values.items()}


def met(typed: Any, stored: Any) -> tuple[QueryDict, Meanwhile]:
    """Bring what was typed up to the row as it is now: the next save is then a knowing one.

    `typed` is the bound form, `stored` the form of the row as it is now.
    """
    data = typed.data.copy()
    opened = read_opened(data.get(OPENED, ""))
    meanwhile = taken_into(data, stored, fields_merged(typed, stored, opened))
    data["version"], data[OPENED] = str(stored.instance.version), stored.fields[OPENED].initial
    return data, meanwhile


def fields_merged(typed: Any, stored: Any, opened: Mapping[str, str] | None) -> Merge:
    """Compare a bound form with the form of the row as it is now, field by field."""
    now = values_of(stored)
    seen = None if opened is None else {name: opened.get(name, "") for name in now}
    return merge(seen, {name: _typed(typed, name) for name in now}, now)


def taken_into(data: QueryDict, stored: Any, merged: Merge) -> Meanwhile:
    """Put what the other editor saved into the data, and tell the rest."""
    for name in merged.taken:
        value = stored[name].value()
        values = value if isinstance(value, (list, tuple)) else [value]
        data.setlist(name, [plain(each) for each in values])
    now = forms.model_to_dict(stored.instance, fields=list(merged.clashing))
    return Meanwhile(
        {name: in_words(stored.fields[name], now[name]) for name in merged.clashing},
        {name: str(stored[name].label) for name in merged.taken},
    )


def _typed(form: Any, name: str) -> str:
    try:
        return plain(form.fields[name].clean(form[name].data))
    except ValidationError:
        return plain(form[name].data)


def _now(value: str) -> str:
    return _("stored now: %(value)s") % {"value": value}
