"""The pages of target lists: listed, shown, edited, copied, taken in from a table, archived."""

from __future__ import annotations

from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from tests.conftest import Cast
from trips.models import TargetEntry, TargetList

WRONG = {
    "weight": ["2", "-1", "nan", "inf", "1,5", "heavy", "9" * 10_000],
    "least_altitude_degrees": ["91", "-6", "nan", "high", "9" * 10_000],
    "field_degrees": ["0", "361", "nan", "wide", "9" * 10_000],
    "light": ["disco", "x" * 10_000],
    "target": ["", "nowhere at all", "x" * 10_000, "<b>M 31</b>", "planet:vulcan"],
    "name": ["x" * 10_000],
    "place": ["0", "-1", "1.5", "first", "201", "9" * 10_000],
}


def page(client: Client, name: str, *numbers: int) -> str:
    return client.get(reverse(name, args=numbers)).content.decode()


def typed(wanted: TargetList, *new: dict[str, str], **changes: Any) -> dict[str, Any]:
    """Give the form as the page has it, with changes by their whole names and new rows below."""
    rows: list[dict[str, Any]] = [
        {"id": one.pk, "target": one.target, "name": one.name, "light": one.light,
         "weight": one.weight, "place": one.order + 1}
        for one in wanted.entries.all()
    ]  # fmt: skip
    data: dict[str, Any] = {
        "name": wanted.name, "version": wanted.version, "entries-INITIAL_FORMS": len(rows),
        "entries-TOTAL_FORMS": len(rows) + len(new),
    }  # fmt: skip
    for number, row in enumerate([*rows, *new]):
        data |= {f"entries-{number}-{name}": value for name, value in row.items()}
    return data | {name.replace("__", "-"): value for name, value in changes.items()}


def edit(client: Client, wanted: TargetList, data: dict[str, Any]) -> str:
    answer = client.post(reverse("target_list_edit", args=[wanted.pk]), data, follow=True)
    return answer.content.decode()


def names(wanted: TargetList) -> list[str]:
    return list(TargetEntry.objects.filter(target_list=wanted).values_list("name", flat=True))


def stored(wanted: TargetList) -> list[tuple[Any, ...]]:
    return list(wanted.entries.values_list())


# Shown


def test_the_lists_are_listed_with_how_many_targets_and_who_wants_them(
    cast: Cast, coordinator: Client
) -> None:
    cast.season.target_list = cast.target_list
    cast.season.save()
    text = page(coordinator, "target_lists")
    assert cast.target_list.name in text
    assert cast.season.name in text


def test_the_lists_of_others_are_not_listed(cast: Cast, coordinator: Client) -> None:
    TargetList.objects.create(organisation=cast.elsewhere, name="Theirs")
    assert "Theirs" not in page(coordinator, "target_lists")


def test_a_target_that_never_rises_is_told_so_at_the_site(cast: Cast, coordinator: Client) -> None:
    TargetEntry.objects.create(target_list=cast.target_list, target="deep-sky:NGC0104", name="Tuc")
    text = page(coordinator, "target_list", cast.target_list.pk)
    assert f"<b>never rises</b>: <bdi>{cast.site.name}</bdi>" in text
    assert "-2" not in text  # no altitude below the horizon


def test_a_target_is_short_of_the_least_altitude_that_the_list_wants(
    cast: Cast, coordinator: Client
) -> None:
    core = cast.target_list.entries.get(target="milky-way:core")
    assert "wanted from" not in page(coordinator, "target_list", cast.target_list.pk)
    core.least_altitude_degrees = 60.0
    core.save()
    assert "wanted from 60°" in page(coordinator, "target_list", cast.target_list.pk)


def test_names_are_shown_as_they_are_typed_and_not_as_markup(
    cast: Cast, coordinator: Client
) -> None:
    edit(coordinator, cast.target_list, typed(cast.target_list, entries__0__name="<b>Core</b>"))
    text = page(coordinator, "target_list", cast.target_list.pk)
    assert "&lt;b&gt;Core&lt;/b&gt;" in text
    assert "<b>Core</b>" not in text


# Edited


def test_a_row_is_added_by_any_name_with_the_field_it_wants(
    cast: Cast, coordinator: Client
) -> None:
    edit(coordinator, cast.target_list, typed(cast.target_list, {"target": "orion nebula"}))
    last = cast.target_list.entries.last()
    assert last is not None
    assert (last.target, last.field_degrees is None) == ("deep-sky:NGC1976", False)


def test_a_row_is_taken_off(cast: Cast, coordinator: Client) -> None:
    edit(coordinator, cast.target_list, typed(cast.target_list, entries__0__DELETE="on"))
    assert names(cast.target_list) == ["North America Nebula"]


def test_a_list_is_not_left_without_a_target(cast: Cast, coordinator: Client) -> None:
    gone = {"entries__0__DELETE": "on", "entries__1__DELETE": "on"}
    text = edit(coordinator, cast.target_list, typed(cast.target_list, **gone))
    assert "name at least one" in text
    assert cast.target_list.entries.count() == 2


@pytest.mark.parametrize(
    ("row", "place", "order"),
    [(2, "1", "C A B"), (0, "3", "B C A"), (0, "2", "B A C"), (1, "2", "A B C"), (0, "", "B C A")],
)
def test_a_row_goes_to_the_place_that_is_typed(
    cast: Cast, coordinator: Client, row: int, place: str, order: str
) -> None:
    wanted = TargetList.objects.create(organisation=cast.club, name="Three")
    for number, (name, key) in enumerate([("A", "jupiter"), ("B", "mars"), ("C", "venus")]):
        wanted.entries.create(target=f"planet:{key}", name=name, order=number)
    edit(coordinator, wanted, typed(wanted, **{f"entries__{row}__place": place}))
    assert " ".join(names(wanted)) == order


@pytest.mark.parametrize(
    ("field", "wrong"), [(field, wrong) for field, wrongs in WRONG.items() for wrong in wrongs]
)
def test_what_cannot_be_is_refused_and_nothing_is_saved(
    cast: Cast, coordinator: Client, field: str, wrong: str
) -> None:
    before = stored(cast.target_list)
    changes = {"name": "Renamed", f"entries__1__{field}": wrong}
    text = edit(coordinator, cast.target_list, typed(cast.target_list, **changes))
    assert "Target 2, " in text
    assert stored(cast.target_list) == before
    assert not TargetList.objects.filter(name="Renamed").exists()


def test_the_same_target_twice_is_refused(cast: Cast, coordinator: Client) -> None:
    data = typed(cast.target_list, {"target": "NGC 7000"})
    assert "twice in the same light" in edit(coordinator, cast.target_list, data)
    assert cast.target_list.entries.count() == 2


def test_of_two_lists_of_a_name_the_second_is_refused(cast: Cast, coordinator: Client) -> None:
    wanted = cast.target_list
    TargetList.objects.create(organisation=cast.club, name="Other")
    text = edit(coordinator, wanted, typed(wanted, name="Other"))
    assert "already a list named “Other”" in text


# From a table


def table(text: str) -> SimpleUploadedFile:
    return SimpleUploadedFile("targets.csv", text.encode(), "text/csv")


def test_a_table_takes_the_place_of_all_rows(cast: Cast, coordinator: Client) -> None:
    data = typed(cast.target_list, table=table("target,weight\nM 31,0.5\nJupiter,1\n"))
    edit(coordinator, cast.target_list, data)
    assert names(cast.target_list) == ["Andromeda Galaxy", "Jupiter"]


def test_a_table_with_a_mistake_is_refused_whole_with_its_line(
    cast: Cast, coordinator: Client
) -> None:
    data = typed(cast.target_list, table=table("target,weight\nM 31,0.5\nJupiter,2\n"))
    text = edit(coordinator, cast.target_list, data)
    assert "Line 3: Jupiter: weight 2 must be from 0 to 1." in text
    assert names(cast.target_list) == ["Galactic core", "North America Nebula"]


# Copied, and added by the search


def test_a_list_to_begin_with_is_copied(cast: Cast, coordinator: Client) -> None:
    address = reverse("target_list_copy", args=[cast.club.pk])
    coordinator.post(address, {"name": "south-winter"})
    assert TargetList.objects.get(organisation=cast.club).entries.count() == 14


def test_a_list_that_there_is_not_is_refused_in_a_sentence(cast: Cast, coordinator: Client) -> None:
    address = reverse("target_list_copy", args=[cast.club.pk])
    assert coordinator.post(address, {"name": "x" * 10_000}).status_code == 200
    assert not TargetList.objects.exists()
