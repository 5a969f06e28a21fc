"""Saving what people edit: the second of two editors is told, and nothing is overwritten."""

from __future__ import annotations

from collections.abc import Collection

from django.db import models
from django.utils.translation import gettext as _

from trips.models import TripNight, Versioned

# What a row is and whose stays.
_NEVER_EDITED = {"id", "uid", "version", "organisation", "site"}


class EditedMeanwhileError(Exception):
    """Somebody saved the same row after this editor had opened it."""

    def __init__(self, row: models.Model) -> None:
        super().__init__(
            _("“%(name)s” was changed by somebody else meanwhile. Look at it again, then edit it.")
            % {"name": row}
        )


def save_edited(row: Versioned | TripNight, *, only: Collection[str] | None = None) -> None:
    """Save all fields, or `only` those, where the version is still the one that the editor saw."""
    values = {
        field.attname: getattr(row, field.attname)
        for field in row._meta.concrete_fields
        if field.name not in _NEVER_EDITED and (only is None or field.name in only)
    }
    seen = row.version
    same = type(row)._default_manager.filter(pk=row.pk, version=seen)
    if same.update(version=seen + 1, **values) != 1:
        raise EditedMeanwhileError(row)
    row.version = seen + 1
