"""What is said of a site's dangers: those written down, and what every night out brings."""

from __future__ import annotations

import pytest

from tests.conftest import Cast
from trips.models import Hazard, Site
from trips.services.cautions import ADVICE, cautions


def kinds(site: Site) -> list[str]:
    return [caution.kind for caution in cautions(site, list(site.hazards.all()))]


def test_a_danger_written_down_stands_with_its_caution(cast: Cast) -> None:
    found = cautions(cast.site, list(cast.site.hazards.all()))
    assert found[0].seen == ("Unfenced edge north of the wall",)
    assert "by daylight" in found[0].advice


def test_cold_and_driving_tired_are_always_said(cast: Cast) -> None:
    cast.site.hazards.all().delete()
    assert kinds(cast.site) == ["cold", "driving"]


def test_a_coast_is_cautioned_about_water(cast: Cast) -> None:
    cast.site.on_coast = True
    assert "water" in kinds(cast.site)


def test_an_inland_site_is_not_cautioned_about_water(cast: Cast) -> None:
    assert "water" not in kinds(cast.site)


@pytest.mark.parametrize("kind", list(Hazard.Kind))
def test_every_kind_has_a_caution(kind: str) -> None:
    assert len(str(ADVICE[kind])) > 40
