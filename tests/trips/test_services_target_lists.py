"""Lists of targets: saved with their entries or not at all, copied, archived."""

from __future__ import annotations

import math
from typing import Any

import pytest
from django.core.exceptions import ValidationError

from tests.trips.making import NOON, make_organisation, make_season, make_site
from trips.almanac.wording import SkyError
from trips.models import Job, TargetEntry, TargetList
from trips.services.editing import EditedMeanwhileError
from trips.services.seasons import save_season
from trips.services.target_lists import (
    MOST_ENTRIES,
    add_target,
    archive_list,
    copy_starter,
    save_list,
)

pytestmark = pytest.mark.django_db


def entry(target: str = "M 31", **fields: Any) -> TargetEntry:
    return TargetEntry(target=target, **fields)


def make_list(*entries: TargetEntry, name: str = "Autumn") -> TargetList:
    made = TargetList(organisation=make_organisation(), name=name)
    save_list(made, entries or [entry()], by=None, now=NOON)
    return made


def refused(*entries: TargetEntry) -> list[str]:
    with pytest.raises(ValidationError) as error:
        make_list(*entries)
    assert not TargetList.objects.exists()
    assert not TargetEntry.objects.exists()
    return error.value.messages


def test_entries_are_stored_by_key_with_a_name_in_their_order() -> None:
    made = make_list(entry("M 31"), entry("core", name="The core over the chapel"))
    assert list(made.entries.values_list("target", "name")) == [
        ("deep-sky:NGC0224", "Andromeda Galaxy"),
        ("milky-way:core", "The core over the chapel"),
    ]


def test_saving_again_keeps_changes_adds_and_drops_entries() -> None:
    made = make_list(entry("M 31"), entry("M 33"))
    first = made.entries.all()[0]
    first.weight = 0.25
    save_list(made, [entry("Jupiter"), first], by=None, now=NOON)
    assert list(made.entries.values_list("target", "weight")) == [
        ("planet:jupiter", 1.0),
        ("deep-sky:NGC0224", 0.25),
    ]
    assert made.version == 2


def test_an_empty_list_is_refused() -> None:
    with pytest.raises(ValidationError, match="name at least one"):
        save_list(TargetList(organisation=make_organisation(), name="None"), [], by=None, now=NOON)
    assert not TargetList.objects.exists()


@pytest.mark.parametrize("count", [MOST_ENTRIES + 1, 5000])
def test_a_list_of_too_many_targets_is_refused(count: int) -> None:
    (words,) = refused(*[entry() for _ in range(count)])
    assert words == f"A list has at most 200 targets; this one has {count}."


@pytest.mark.parametrize("weight", [-0.01, 1.01, math.nan, math.inf, -math.inf, 1e308])
def test_a_weight_outside_0_to_1_is_refused(weight: float) -> None:
    (words,) = refused(entry(weight=weight))
    assert "must be from 0 to 1" in words


@pytest.mark.parametrize("weight", [0, 0.5, 1])
def test_a_weight_from_0_to_1_is_saved(weight: float) -> None:
    assert make_list(entry(weight=weight)).entries.get().weight == weight


@pytest.mark.parametrize("least", [-5.01, 90.5, math.nan])
def test_a_least_altitude_past_its_limits_is_refused(least: float) -> None:
    (words,) = refused(entry(least_altitude_degrees=least))
    assert "must be from −5 to 90" in words


@pytest.mark.parametrize("field", [0, 0.05, 361, math.inf])
def test_a_field_past_its_limits_is_refused(field: float) -> None:
    (words,) = refused(entry(field_degrees=field))
    assert "must be from 0.1 to 360" in words


@pytest.mark.parametrize("name", ["Andromda Galxy", "nothing at all", "", "x" * 121, "foo:bar"])
def test_an_unknown_target_is_refused_in_a_sentence(name: str) -> None:
    (words,) = refused(entry(name))
    assert words.endswith(".")


def test_a_refusal_names_the_nearest() -> None:
    (words,) = refused(entry("Andromda Galxy"))
    assert "“Andromeda Galaxy”" in words


def test_an_unknown_light_is_refused() -> None:
    (words,) = refused(entry(light="disco"))
    assert "“disco” is no light" in words


def test_every_entry_that_cannot_be_is_named_at_once() -> None:
    assert len(refused(entry("nowhere"), entry("M 33", weight=2), entry("M 31"))) == 2


def test_the_same_target_in_the_same_light_twice_is_refused() -> None:
    (words,) = refused(entry("M 31"), entry("NGC 224", light="moonless"))
    assert words == "Andromeda Galaxy is in the list twice in the same light; keep one of the two."


def test_the_same_target_in_two_lights_is_saved() -> None:
    assert make_list(entry("M 31"), entry("M 31", light="dark")).entries.count() == 2


def test_an_entry_of_another_list_is_refused_and_nothing_changes() -> None:
    other = make_list(name="Other")
    mine = TargetList.objects.create(organisation=other.organisation, name="Mine")
    with pytest.raises(ValidationError, match="belongs to another list"):
        save_list(mine, [other.entries.get()], by=None, now=NOON)
    assert other.entries.count() == 1
    assert not mine.entries.exists()


def test_the_second_of_two_editors_is_refused_and_saves_nothing() -> None:
    made = make_list()
    late = TargetList.objects.get(pk=made.pk)
    save_list(made, [entry("M 33")], by=None, now=NOON)
    with pytest.raises(EditedMeanwhileError):
        save_list(late, [entry("M 42")], by=None, now=NOON)
    assert made.entries.get().target == "deep-sky:NGC0598"


def test_saving_a_wanted_list_asks_for_its_windows() -> None:
    made = make_list()
    site = make_site(made.organisation)
    make_season(site, target_list=made)
    save_list(made, [entry("M 33")], by=None, now=NOON)
    assert [job.site for job in Job.objects.filter(kind=Job.Kind.TARGET_WINDOWS)] == [site]


def test_saving_a_list_that_no_season_wants_asks_for_nothing() -> None:
    made = make_list()
    make_season(make_site(made.organisation))
    save_list(made, [entry("M 33")], by=None, now=NOON)
    assert not Job.objects.exists()


def test_a_copied_list_has_the_entries_weights_and_fields() -> None:
    copy = copy_starter(make_organisation(), "north-summer", by=None, now=NOON)
    core = copy.entries.get(target="milky-way:core")
    assert copy.name == "Northern summer, June to August"
    assert copy.entries.count() == 14
    assert (core.weight, core.field_degrees) == (1.0, 60.0)


def test_a_second_copy_has_a_name_of_its_own() -> None:
    club = make_organisation()
    names = [copy_starter(club, "south-winter", by=None, now=NOON).name for _ in range(3)]
    assert names[1:] == [f"{names[0]} (2)", f"{names[0]} (3)"]


def test_no_list_to_begin_with_is_copied_by_another_name() -> None:
    with pytest.raises(SkyError):
        copy_starter(make_organisation(), "north-monsoon", by=None, now=NOON)
    assert not TargetList.objects.exists()


def test_an_added_target_comes_last_with_the_field_it_wants() -> None:
    made = make_list()
    add_target(made, "deep-sky:NGC7000", by=None, now=NOON)
    last = made.entries.last()
    assert last is not None
    assert (last.target, last.field_degrees) == ("deep-sky:NGC7000", 6.0)


def test_a_target_is_not_added_twice() -> None:
    made = make_list()
    with pytest.raises(ValidationError, match="twice"):
        add_target(made, "M 31", by=None, now=NOON)
    assert made.entries.count() == 1


def test_a_list_that_a_season_wants_is_not_archived_and_the_season_is_named() -> None:
    made = make_list()
    make_season(make_site(made.organisation), target_list=made)
    with pytest.raises(ValidationError, match="“Spring” wants this list"):
        archive_list(made, now=NOON)
    made.refresh_from_db()
    assert made.archived_at is None


def test_a_list_of_an_archived_season_is_archived() -> None:
    made = make_list()
    make_season(make_site(made.organisation), target_list=made, archived_at=NOON)
    archive_list(made, now=NOON)
    made.refresh_from_db()
    assert made.archived_at == NOON


def test_a_season_does_not_take_the_list_of_another_organisation() -> None:
    foreign = make_list()
    season = make_season(make_site(make_organisation("Elsewhere")))
    season.target_list = foreign
    with pytest.raises(ValidationError) as error:
        save_season(season, list(season.sites.all()), by=None, now=NOON)
    assert error.value.message_dict == {
        "target_list": ["“Autumn” belongs to another organisation; choose among your own lists."]
    }


def test_a_season_takes_a_list_of_its_own() -> None:
    made = make_list()
    season = make_season(make_site(made.organisation))
    season.target_list = made
    save_season(season, list(season.sites.all()), by=None, now=NOON)
    season.refresh_from_db()
    assert season.target_list == made
