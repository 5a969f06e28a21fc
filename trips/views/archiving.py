"""Putting away what is no longer wanted: a coordinator is asked, of two editors the second told."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from trips.models import Camera, LoanItem, Organisation, Season, Site, Spot, TargetList
from trips.services.editing import EditedMeanwhileError
from trips.views.members import require_coordinator
from trips.views.versions import seen_version

Named = Camera | LoanItem | Season | Site | Spot | TargetList


def archiving(
    request: HttpRequest, row: Named, deed: Callable[[], None], *,
    organisation: Organisation, template: str, then: str, **context: Any,
) -> HttpResponse:  # fmt: skip
    """Ask whether it is meant, and with a POST do it and go to `then`.

    What the deed refuses stands on the page. A template extends `trips/archive.html`.
    """
    require_coordinator(request, organisation)
    refused: list[str] = []
    if request.method == "POST":
        row.version = seen_version(request, row)
        try:
            deed()
        except EditedMeanwhileError as error:
            messages.warning(request, str(error))
            return redirect(request.path)
        except ValidationError as error:
            refused = error.messages
        else:
            messages.success(request, _("%(name)s is archived.") % {"name": row.name})
            return redirect(then)
    return render(request, template, {"row": row, "refused": refused, **context})
