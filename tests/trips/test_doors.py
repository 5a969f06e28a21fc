"""Every address, tried by everybody. An address that is not in the matrix fails it."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.db import transaction
from django.test import Client
from django.urls import reverse

from tests.conftest import Cast
from tests.trips.doors import LOOKED_AT, MATRIX, ROLES, address, patterns

NEEDS_NO_ACCOUNT = {"sign_in", "sign_out", "demo_sign_in", "look"}


def test_every_address_is_in_the_matrix() -> None:
    assert {pattern.name for pattern in patterns()} == {name for _, name in MATRIX}


def test_every_address_is_tried_by_get() -> None:
    assert {name for _, name in MATRIX} == set(LOOKED_AT)


@pytest.mark.parametrize(("method", "name"), MATRIX)
def test_the_door_answers(
    method: str, name: str, cast: Cast, signed_in: Callable[[str], Client]
) -> None:
    """To each role as if no other had been there before."""
    where = address(name, cast)
    answers = {}
    for role in ROLES:
        with transaction.atomic():
            answers[role] = signed_in(role).generic(method, where)
            transaction.set_rollback(True)
    assert [answer.status_code for answer in answers.values()] == MATRIX[method, name]
    if answers["anonymous"].status_code == 302 and name not in NEEDS_NO_ACCOUNT:
        assert answers["anonymous"].headers["Location"].startswith(reverse("sign_in"))
