"""When one target stands clear of one skyline in the wanted light, over a year, in one row."""

from __future__ import annotations

from django.db import models

from trips.models.site import Site
from trips.models.spot import Spot
from trips.queries import MemberOfSiteQuerySet


class TargetWindows(models.Model):
    """`spot` None: over the site itself, with a level horizon.

    What the bytes hold is in `trips/almanac/packing.py`. Never queried but by the first columns.
    """

    site = models.ForeignKey(Site, on_delete=models.CASCADE, related_name="target_windows")
    spot = models.ForeignKey(
        Spot, on_delete=models.CASCADE, null=True, related_name="target_windows"
    )
    target = models.CharField(max_length=120)
    light = models.CharField(max_length=8)
    # −90 where only the skyline limits it: a column that is part of a key may not be empty.
    least_altitude_degrees = models.FloatField()
    dark_level = models.SmallIntegerField()
    year = models.PositiveSmallIntegerField()
    spans = models.BinaryField()
    bests = models.BinaryField()
    fingerprint = models.CharField(max_length=64)

    objects = MemberOfSiteQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["spot", "target", "light", "least_altitude_degrees", "dark_level", "year"],
                condition=models.Q(spot__isnull=False),
                name="one_row_of_windows_at_a_spot",
            ),
            models.UniqueConstraint(
                fields=["site", "target", "light", "least_altitude_degrees", "dark_level", "year"],
                condition=models.Q(spot__isnull=True),
                name="one_row_of_windows_at_a_site",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.target} {self.site_id}/{self.spot_id} {self.year}"
