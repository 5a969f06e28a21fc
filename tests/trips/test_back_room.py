"""Django's own pages for whoever keeps the server: shut to others, and no way round services."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.contrib import admin
from django.test import Client
from django.urls import reverse

from tests.conftest import Cast


def admin_addresses(cast: Cast) -> list[str]:
    """Every address of the back room that Django serves for our rows."""
    views = ["index", "password_change", "jsi18n", "autocomplete"]
    addresses = [reverse(f"admin:{view}") for view in views]
    for model in admin.site._registry:
        name = f"admin:{model._meta.app_label}_{model._meta.model_name}"
        addresses += [reverse(f"{name}_{way}") for way in ("changelist", "add")]
        addresses += [reverse(f"{name}_{way}", args=[1]) for way in ("change", "delete", "history")]
    return addresses


@pytest.mark.parametrize("role", ["anonymous", "stranger", "instructor", "coordinator"])
def test_the_back_room_is_shut(role: str, cast: Cast, signed_in: Callable[[str], Client]) -> None:
    for address in admin_addresses(cast):
        response = signed_in(role).get(address)
        assert response.status_code == 302, address
        assert reverse("admin:login") in response.headers["Location"], address


@pytest.mark.parametrize("model", ["user", "organisation", "site", "season", "job"])
def test_the_back_room_is_open_to_a_superuser(
    model: str, cast: Cast, signed_in: Callable[[str], Client]
) -> None:
    response = signed_in("superuser").get(reverse(f"admin:trips_{model}_changelist"))
    assert response.status_code == 200


@pytest.mark.parametrize("model", ["site", "season", "job"])
def test_the_back_room_does_not_change_what_services_keep(
    model: str, cast: Cast, signed_in: Callable[[str], Client]
) -> None:
    client, row = signed_in("superuser"), getattr(cast, model)
    assert client.get(reverse(f"admin:trips_{model}_add")).status_code == 403
    for way in ("change", "delete"):
        address = reverse(f"admin:trips_{model}_{way}", args=[row.pk])
        assert client.post(address, {"post": "yes"}).status_code == 403
