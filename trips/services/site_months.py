"""What months are like at a site by night."""

from __future__ import annotations

from collections.abc import Sequence

from django.db import transaction

from trips.models import Site, SiteMonth


@transaction.atomic
def save_months(site: Site, months: Sequence[SiteMonth]) -> None:
    """Put these months in the place of those that the site had: all twelve, some, or none."""
    Site.objects.select_for_update().get(pk=site.pk)  # two editors: one after the other
    SiteMonth.objects.filter(site=site).delete()
    for month in months:
        month.pk, month.site = None, site
    SiteMonth.objects.bulk_create(months)
