"""The log of darkness: a reading taken out again, all of them as a table."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied, ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from trips.almanac.readings import night_holding, toward
from trips.models import DarknessReading
from trips.services.darkness import may_remove, remove_reading
from trips.services.darkness_tables import COLUMNS, rows_of
from trips.views.downloads import csv_file
from trips.views.members import coordinated, member, site_of


@require_safe
@login_required
def darkness_csv(request: HttpRequest, site_id: int) -> HttpResponse:
    site = site_of(request, site_id)
    return csv_file([site.name, _("darkness")], COLUMNS, rows_of(site))


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
