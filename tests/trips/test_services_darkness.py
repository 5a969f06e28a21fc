"""The log of darkness: what of it the site is taken to have, what is kept beside, what is refused.

At Broom Hill (40.4° N, 1.1° W) in March 2026: new Moon on the 19th, full on the 3rd.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from django.core.exceptions import ValidationError

from tests.conftest import Cast
from trips.models import DarknessReading, Job, Site
from trips.services.darkness import add_readings, doubts, remove_reading
from trips.services.sky_in_force import TYPED, keep_typed

NOW = datetime(2026, 11, 1, 12, tzinfo=UTC)
DARK = datetime(2026, 3, 18, 22, 40, tzinfo=UTC)  # 23:40 on the site's clock, no Moon
MOONLIT = datetime(2026, 3, 3, 23, 0, tzinfo=UTC)
TWILIGHT = datetime(2026, 3, 18, 19, 20, tzinfo=UTC)  # Sun about 14° down
DAY = timedelta(days=1)


def reading(magnitude: float, azimuth: float | None = None, **fields: Any) -> DarknessReading:
    return DarknessReading(
        magnitude=magnitude, azimuth_degrees=azimuth, **{"at": DARK, "how": "meter"} | fields
    )


def add(cast: Cast, *readings: DarknessReading) -> Site:
    add_readings(cast.site, readings, by=cast.instructor, now=NOW)
    return stored(cast)


def stored(cast: Cast) -> Site:
    return Site.objects.get(pk=cast.site.pk)


def refusal(cast: Cast, *readings: DarknessReading) -> str:
    with pytest.raises(ValidationError) as refused:
        add(cast, *readings)
    assert not DarknessReading.objects.exists()
    return " ".join(refused.value.messages)


def typed(cast: Cast, magnitude: float, on: date | None, words: str = "") -> None:
    Site.objects.filter(pk=cast.site.pk).update(
        sky_brightness=magnitude, sky_measured_on=on, sky_circumstances=words
    )


# In force


def test_the_newest_at_the_zenith_is_what_the_site_has(cast: Cast) -> None:
    add(cast, reading(21.4, milky_way_overhead=True, note="a little haze"))
    site = add(cast, reading(21.2, at=DARK - 30 * DAY))
    assert (site.sky_brightness, site.sky_measured_on) == (21.4, date(2026, 3, 18))
    assert site.sky_circumstances == (
        "23:40, no Moon, Milky Way overhead, with a meter, a little haze"
    )


def test_a_reading_after_midnight_is_of_the_evening_before(cast: Cast) -> None:
    site = add(cast, reading(21.4, at=datetime(2026, 3, 19, 1, 0, tzinfo=UTC)))
    assert site.sky_measured_on == date(2026, 3, 18)


@pytest.mark.parametrize(
    "fields",
    [
        {"moon_up": True},
        {"snow": True},
        {"at": TWILIGHT},
        {"at": MOONLIT},  # though nobody said so
        {"magnitude": 22.8},
        {"magnitude": 13.5},
    ],
)
def test_moon_snow_twilight_and_the_unlikely_are_kept_and_never_in_force(
    cast: Cast, fields: dict[str, Any]
) -> None:
    one = reading(19.0)
    for name, value in fields.items():
        setattr(one, name, value)
    site = add(cast, one)
    assert site.sky_brightness is None
    assert site.darkness_readings.count() == 1


def test_the_directions_are_those_of_the_newest_night_with_any(cast: Cast) -> None:
    add(cast, reading(20.1, 90, at=DARK - DAY), reading(20.2, 180, at=DARK - DAY))
    site = add(
        cast,
        reading(20.9, 270),
        reading(20.4, 90, at=DARK - timedelta(hours=1)),
        reading(20.5, 90),  # once more, later: this one counts
        reading(21.5, at=DARK + DAY),  # a later night at the zenith only
        reading(18.0, 180, moon_up=True),
    )
    assert site.sky_by_azimuth == [[90.0, 20.5], [270.0, 20.9]]
    assert site.sky_brightness == 21.5


def test_north_is_one_direction_however_it_is_written(cast: Cast) -> None:
    site = add(cast, reading(20.5, 0), reading(20.7, 360, at=DARK + timedelta(minutes=1)))
    assert site.sky_by_azimuth == [[0.0, 20.7]]


def test_a_site_without_readings_left_is_not_measured(cast: Cast) -> None:
    add(cast, reading(21.4), reading(20.5, 90))
    for one in DarknessReading.objects.all():
        remove_reading(one, by=cast.instructor, now=NOW)
    site = stored(cast)
    assert (site.sky_brightness, site.sky_measured_on) == (None, None)
    assert (site.sky_circumstances, site.sky_by_azimuth) == ("", [])


# What was typed in the site's form


def test_what_was_typed_becomes_a_reading_and_is_in_force_again_without_newer_ones(
    cast: Cast,
) -> None:
    typed(cast, 21.6, date(2025, 8, 14), "00:10, no Moon")
    assert add(cast, reading(21.4)).sky_brightness == 21.4
    by_form = DarknessReading.objects.get(how=TYPED)
    assert (by_form.magnitude, by_form.note) == (21.6, "00:10, no Moon")
    remove_reading(DarknessReading.objects.exclude(how=TYPED).get(), by=None, now=NOW)
    site = stored(cast)
    assert (site.sky_brightness, site.sky_measured_on) == (21.6, date(2025, 8, 14))
    assert site.sky_circumstances == "00:10, no Moon"


def test_what_was_typed_later_stays_in_force(cast: Cast) -> None:
    typed(cast, 21.6, date(2026, 8, 14))
    assert add(cast, reading(21.4)).sky_brightness == 21.6


def test_what_was_typed_is_not_kept_twice(cast: Cast) -> None:
    typed(cast, 21.6, date(2026, 3, 29))  # the day on which the clocks change
    add(cast, reading(21.4))
    add(cast, reading(21.3, at=DARK - DAY))
    assert DarknessReading.objects.filter(how=TYPED).count() == 1
    assert stored(cast).sky_measured_on == date(2026, 3, 29)


def test_words_that_somebody_put_otherwise_stay(cast: Cast) -> None:
    add(cast, reading(21.4))
    Site.objects.update(sky_circumstances="thin cloud in the west")
    site = add(cast, reading(20.5, 90))
    assert site.sky_circumstances == "thin cloud in the west"
    assert not site.darkness_readings.filter(how=TYPED).exists()


def test_a_typed_value_without_a_date_must_get_one_first(cast: Cast) -> None:
    typed(cast, 21.6, None)
    assert "has no date" in refusal(cast, reading(21.4))
    with pytest.raises(ValidationError):
        keep_typed(stored(cast))


# What follows


def test_a_site_that_changes_is_saved_anew_for_other_editors(cast: Cast) -> None:
    before = cast.site.version
    assert add(cast, reading(21.4)).version == before + 1
    assert add(cast, reading(21.9, moon_up=True)).version == before + 1


def test_what_depends_on_the_sky_is_asked_for(cast: Cast) -> None:
    Job.objects.all().delete()
    add(cast, reading(21.4))
    assert Job.objects.open().filter(site=cast.site).exists()


def test_a_reading_that_changes_nothing_asks_for_nothing(cast: Cast) -> None:
    Job.objects.all().delete()
    add(cast, reading(19.0, moon_up=True))
    assert not Job.objects.exists()


# Refused, doubted


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"at": datetime(2026, 3, 18, 12, tzinfo=UTC)}, "At 13:00 the Sun was up at Broom Hill"),
        ({"at": NOW + DAY}, "still to come"),
        ({"at": datetime(1960, 1, 1, tzinfo=UTC)}, "1960"),
        ({"magnitude": 9.9}, "no sky of a night"),
        ({"magnitude": 23.1}, "no sky of a night"),
        ({"magnitude": float("nan")}, "no sky of a night"),
    ],
)
def test_what_cannot_be_is_refused_with_all_that_came_along(
    cast: Cast, fields: dict[str, Any], words: str
) -> None:
    wrong = reading(21.0)
    for name, value in fields.items():
        setattr(wrong, name, value)
    assert words in refusal(cast, reading(21.4), wrong)


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"at": MOONLIT}, "The Moon stood"),
        ({"moon_up": True}, "but it was below the horizon"),
        ({"at": TWILIGHT}, "The Sun was only 1"),
        ({"magnitude": 22.8}, "no clear sky is that dark"),
        ({"magnitude": 12.0}, "as bright as under lamps"),
    ],
)
def test_what_disagrees_with_the_sky_is_said(
    cast: Cast, fields: dict[str, Any], words: str
) -> None:
    one = reading(21.0)
    for name, value in fields.items():
        setattr(one, name, value)
    (said,) = doubts(cast.site, [one])
    assert words in said


def test_an_outing_in_the_same_moonlight_is_doubted_once(cast: Cast) -> None:
    assert len(doubts(cast.site, [reading(20.0, n * 45.0, at=MOONLIT) for n in range(8)])) == 1


def test_a_dark_reading_is_not_doubted(cast: Cast) -> None:
    assert doubts(cast.site, [reading(21.4), reading(19.0, 90, at=MOONLIT, moon_up=True)]) == []
