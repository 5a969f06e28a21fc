"""What a site's months are like, typed as a table."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from trips.forms.layout import mistakes
from trips.forms.site_months import SiteMonthsForm
from trips.models import SiteMonth
from trips.services.site_months import save_months
from trips.views.kept_typing import typing_kept
from trips.views.members import site_of


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def site_months(request: HttpRequest, site_id: int) -> HttpResponse:
    site = site_of(request, site_id)
    stored = SiteMonth.objects.filter(site=site)
    form = SiteMonthsForm(request.POST if request.method == "POST" else None, stored=stored)
    if form.is_valid():
        save_months(site, form.months())
        messages.success(request, _("The months of %(site)s are saved.") % {"site": site.name})
        return HttpResponseRedirect(reverse("site_detail", args=[site.pk]) + "#months")
    context = {"site": site, "form": form, "rows": form.rows(), "mistakes": mistakes(form)}
    return render(request, "trips/site_months.html", context)
