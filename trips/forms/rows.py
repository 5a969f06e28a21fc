"""Rows below a form: hazards, landmarks, entries of a list. No more than are meant to be."""

from __future__ import annotations

from typing import Any

from django import forms
from django.db import models
from django.utils.translation import gettext_lazy, ngettext_lazy


class Rows(forms.BaseInlineFormSet):  # type: ignore[type-arg]
    default_error_messages = {  # as its base has it
        **forms.BaseFormSet.default_error_messages,
        "missing_management_form": gettext_lazy(
            "The rows did not arrive whole: load the page again, then send it once more."
        ),
        "too_many_forms": ngettext_lazy(
            "There may be %(num)d row; leave the others out.",
            "There may be %(num)d rows; leave the others out.",
            "num",
        ),
    }


def rows_of(
    parent: type[models.Model], child: type[models.Model], **options: Any
) -> type[forms.BaseInlineFormSet]:  # type: ignore[type-arg]
    """Make the rows' form; `most` of them and no more."""
    most = options.pop("most")
    return forms.inlineformset_factory(
        parent, child, can_delete=True, max_num=most, validate_max=True,
        **{"formset": Rows, **options},
    )  # fmt: skip
