"""Sites: listed, shown, added, edited, archived."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.forms import BaseInlineFormSet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.dates import MONTHS
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from trips.almanac.places import describe_position
from trips.almanac.wording import SkyError, sentence
from trips.forms import HazardFormSet, SiteForm, position_mark
from trips.models import Organisation, Site
from trips.services import positions
from trips.services.editing import EditedMeanwhileError
from trips.services.sites import archive_site, save_site
from trips.views.members import by_organisation, coordinated, member, require_coordinator


@require_safe
@login_required
def site_list(request: HttpRequest) -> HttpResponse:
    sites = list(Site.objects.for_member(member(request)).current())
    groups = by_organisation(request, sites)
    return render(request, "trips/site_list.html", {"groups": groups})


@require_safe
@login_required
def site_detail(request: HttpRequest, site_id: int) -> HttpResponse:
    site = _site(request, site_id)
    context = {
        "site": site,
        "echo": describe_position(site.latitude, site.longitude),
        "hazards": site.hazards.all(),
        "months_open": ", ".join(str(MONTHS[month]) for month in sorted(site.months_open)),
        "seasons": site.seasons.current(),
        "may_archive": coordinated(request, [site.organisation]),
    }
    return render(request, "trips/site_detail.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def site_add(request: HttpRequest, organisation_id: int) -> HttpResponse:
    mine = Organisation.objects.for_member(member(request))
    organisation = get_object_or_404(mine, pk=organisation_id)
    return _edit(request, Site(organisation=organisation), _("Add a site"))


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def site_edit(request: HttpRequest, site_id: int) -> HttpResponse:
    site = _site(request, site_id)
    return _edit(request, site, _("Edit %(site)s") % {"site": site.name})


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def site_archive(request: HttpRequest, site_id: int) -> HttpResponse:
    site = _site(request, site_id)
    require_coordinator(request, site.organisation)
    if request.method != "POST":
        return render(request, "trips/site_archive.html", {"site": site})
    archive_site(site, now=timezone.now())
    messages.success(request, _("%(site)s is archived.") % {"site": site.name})
    return redirect("site_list")


def _site(request: HttpRequest, site_id: int) -> Site:
    mine = Site.objects.for_member(member(request)).select_related("organisation")
    site: Site = get_object_or_404(mine, pk=site_id)
    return site


def _edit(request: HttpRequest, site: Site, heading: str) -> HttpResponse:
    """Show the form; echo a position that was not seen yet; save one that was."""
    form = SiteForm(request.POST or None, instance=site)
    hazards = HazardFormSet(request.POST or None, instance=site)
    context = {"form": form, "hazards": hazards, "heading": heading}
    if request.method == "POST" and form.is_valid() and hazards.is_valid():
        if not form.is_seen:
            context |= _echo(request, form, site)
        elif _save(request, form, hazards):
            return redirect("site_detail", site.pk)
    return render(request, "trips/site_form.html", context)


def _echo(request: HttpRequest, form: SiteForm, site: Site) -> dict[str, object]:
    """Give back the form as typed, with the zone filled in and the position marked as seen."""
    typed = request.POST.copy()
    typed["zone"], typed["seen"] = site.zone, position_mark(site)
    form.data = typed
    return {
        "echo": describe_position(site.latitude, site.longitude),
        "doubts": positions.doubts(site),
    }


def _save(request: HttpRequest, form: SiteForm, hazards: BaseInlineFormSet) -> bool:  # type: ignore[type-arg]
    site = form.instance
    if form.cleaned_data["version"] is not None:
        site.version = form.cleaned_data["version"]
    try:
        # A site and its dangers are saved together or not at all.
        with transaction.atomic():
            save_site(site, by=member(request), now=timezone.now())
            hazards.save()
    except EditedMeanwhileError as error:
        form.add_error(None, str(error))
    except SkyError as error:
        form.add_error(None, sentence(error))
    else:
        messages.success(request, _("%(site)s is saved.") % {"site": site.name})
        return True
    return False
