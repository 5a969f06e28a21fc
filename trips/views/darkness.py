"""The log of darkness: as a table, from a table, and a reading taken out of it again."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied, ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods, require_safe

from trips.almanac.readings import night_holding, toward
from trips.forms.darkness import TableForm
from trips.forms.layout import mistakes
from trips.models import DarknessReading
from trips.services.darkness import may_remove, remove_reading
from trips.services.darkness_tables import COLUMNS, TakenIn, rows_of, shortened, take_in
from trips.views.downloads import csv_file
from trips.views.members import coordinated, member, site_of

MOST_DOUBTS = 5


@require_safe
@login_required
def darkness_csv(request: HttpRequest, site_id: int) -> HttpResponse:
    site = site_of(request, site_id)
    return csv_file([site.name, _("darkness")], COLUMNS, rows_of(site))


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def darkness_table(request: HttpRequest, site_id: int) -> HttpResponse:
    """Take a table of readings into the log."""
    site = site_of(request, site_id)
    is_sent = request.method == "POST"
    form = TableForm(request.POST, request.FILES) if is_sent else TableForm()
    if form.is_valid():
        try:
            data = form.cleaned_data["table"].read()
            taken = take_in(site, data, by=member(request), now=timezone.now())
        except ValidationError as error:
            form.add_error("table", error)
        else:
            _tell(request, taken)
            return redirect(reverse("site_detail", args=[site.pk]) + "#darkness")
    context = {"site": site, "form": form, "mistakes": mistakes(form), "columns": COLUMNS}
    return render(request, "trips/darkness_table.html", context)


def _tell(request: HttpRequest, taken: TakenIn) -> None:
    words = ngettext("%(count)d reading is new in the log.", "%(count)d readings are new in the "
                     "log.", taken.added)  # fmt: skip
    messages.success(request, words % {"count": taken.added})
    if taken.known:
        words = ngettext("%(count)d was there already.", "%(count)d were there already.",
                         taken.known)  # fmt: skip
        messages.info(request, words % {"count": taken.known})
    for doubt in shortened(taken.doubts, MOST_DOUBTS):
        messages.warning(request, doubt)


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def reading_remove(request: HttpRequest, reading_id: int) -> HttpResponse:
    mine = DarknessReading.objects.for_member(member(request))
    reading = get_object_or_404(mine.select_related("site__organisation", "camera"), pk=reading_id)
    site = reading.site
    coordinates = bool(coordinated(request, [site.organisation]))
    if not may_remove(reading, member(request), coordinates=coordinates):
        raise PermissionDenied
    back = reverse("site_detail", args=[site.pk]) + "#darkness"
    if request.method != "POST":
        context = {
            "site": site,
            "reading": reading,
            "evening": night_holding(reading.at, site.zone),
            "toward": toward(reading.azimuth_degrees),
        }
        return render(request, "trips/reading_remove.html", context)
    try:
        remove_reading(reading, by=member(request), now=timezone.now())
    except ValidationError as error:
        messages.warning(request, " ".join(error.messages))
        return redirect(back)
    messages.success(request, _("The reading is out of the log."))
    return redirect(back)
