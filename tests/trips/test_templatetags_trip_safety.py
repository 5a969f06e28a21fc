"""Each warning and each piece of advice has its words, with figures and a reason."""

from __future__ import annotations

from datetime import UTC, date, datetime, time
from typing import Any

import pytest

from trips.almanac.cold_words import COLD
from trips.planning import cold_advice
from trips.planning.trip_warnings import TripWarning
from trips.templatetags.trip_safety import WARNINGS, because, degrees, to_do, together, warned

SAID: list[tuple[str, dict[str, Any], str]] = [
    ("first_drive", {"hours": 5.5, "limit": 4.0}, "5.5\u00a0h of driving before"),
    (
        "late_drive",
        {"hours": 1.52, "after": time(1), "limit": 1.0},
        "1.5\u00a0h of driving after 01:00",
    ),
    ("rest", {"hours": 5.0, "drive_hours": 0.75, "limit": 7.0}, "0.8\u00a0h of them are the drive"),
    (
        "late_nights",
        {"nights": 3, "after": time(1), "first": date(2027, 7, 3)},
        "number 3 running since 3 July",
    ),
    ("sleeping_height", {"height_m": 2900, "limit": 2500}, "at 2900 m"),
    (
        "leaders",
        {"kinds": ("edge", "ice"), "people": 13, "leaders": 1, "wanted": 3, "limit": 6},
        "1 leader for 13 people, and a danger: cliff or steep edge, snow or ice. One for each 6",
    ),
    (
        "leave_by",
        {
            "leave_by": datetime(2027, 7, 3, 22, 45, tzinfo=UTC),
            "ends_at": datetime(2027, 7, 4, tzinfo=UTC),
            "zone": "Europe/Madrid",
        },
        "must be left by 00:45, and the night goes on until 02:00",
    ),
    ("seats", {"seats": 5, "people": 9}, "5 seats for 9 people"),
    ("same_driver", {"drivers": ("e1",)}, "drove the night before too"),
]


@pytest.mark.parametrize(("code", "figures", "said"), SAID)
def test_a_warning_says_its_figures(code: str, figures: dict[str, Any], said: str) -> None:
    assert said in warned(TripWarning(code, None, figures))


def test_no_warning_is_without_words() -> None:
    assert {code for code, _, _ in SAID} == set(WARNINGS)


def test_a_night_without_rest_says_nothing_of_its_drive() -> None:
    figures = {"hours": -1.0, "drive_hours": 1.0, "limit": 7.0}
    said = warned(TripWarning("rest", None, figures))
    assert said.startswith("none between leaving")
    assert "drive" not in said


@pytest.mark.parametrize(
    ("celsius", "said"), [(-3.315, "−3 °C"), (0.4, "0 °C"), (-0.4, "0 °C"), (9.5, "10 °C")]
)
def test_degrees_are_whole_and_never_minus_nothing(celsius: float, said: str) -> None:
    assert degrees(celsius) == said


class Night:
    def __init__(self, above_dew_c: float | None, wind_chill_c: float | None) -> None:
        self.above_dew_c, self.wind_chill_c = above_dew_c, wind_chill_c


@pytest.mark.parametrize(
    ("cold", "air_c", "codes"),
    [
        (None, None, ["cool_down", "dew_unknown", "batteries", "warm_up"]),
        (Night(3.0, None), 12.0, ["cool_down", "dew", "warm_up"]),
        (Night(3.1, 4.0), 5.1, ["cool_down", "warm_up"]),
        (Night(8.0, -10.0), 5.0, ["cool_down", "batteries", "biting", "warm_up"]),
        (Night(None, -28.0), -20.0, ["cool_down", "dew_unknown", "batteries", "frostbite",
                                     "warm_up"]),
    ],
)  # fmt: skip
def test_what_to_do_follows_from_the_air(
    cold: Night | None, air_c: float | None, codes: list[str]
) -> None:
    assert list(cold_advice.advice(cold, air_c)) == codes
    assert all(to_do(code) and because(code) for code in codes)


def test_no_advice_is_without_words() -> None:
    assert set(COLD) == {
        "cool_down", "dew", "dew_unknown", "batteries", "biting", "frostbite", "warm_up",
    }  # fmt: skip


def test_what_holds_for_several_nights_is_said_once() -> None:
    seats = {"seats": 5, "people": 9}
    found = [TripWarning("seats", date(2027, 7, day), seats) for day in (2, 3)]
    assert together(found) == [
        ("Fri 2 July, Sat 3 July", "5 seats for 9 people, leaders counted."),
    ]
