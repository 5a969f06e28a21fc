"""Fields of forms that read their label, help and range off the model."""

from __future__ import annotations

from typing import Any

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.text import capfirst, format_lazy
from django.utils.translation import gettext_lazy as _

from trips.forms.fields import ClockField, DecimalField


def decimal(model: type[models.Model], name: str, example: str) -> DecimalField:
    """Give the field of a number as people write it; `example` is one that would be right."""
    of: Any = model._meta.get_field(name)
    low, high = (_limit(of, kind) for kind in (MinValueValidator, MaxValueValidator))
    nothing = format_lazy(_("No number is written here; write it like {}."), example)
    return DecimalField(
        low=low, high=high, example=example, required=not of.blank,
        label=capfirst(of.verbose_name), help_text=of.help_text,
        error_messages={"required": nothing},
    )  # fmt: skip


def clock(model: type[models.Model], name: str) -> ClockField:
    """Give the field of an hour of a 24 h clock."""
    of: Any = model._meta.get_field(name)
    return ClockField(
        required=not of.blank, label=capfirst(of.verbose_name), help_text=of.help_text
    )


def _limit(of: Any, kind: type[MinValueValidator | MaxValueValidator]) -> float:
    return next(float(one.limit_value) for one in of.validators if isinstance(one, kind))
