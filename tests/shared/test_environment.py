"""The environment is read in one place, and a mistake in it is said in a sentence."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from django.core.exceptions import ImproperlyConfigured

from shared.settings.environment import kept_key, read_environment
from tests.trips.stage import ROOT


def test_without_any_name_a_service_for_this_machine_alone_is_set_up(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    found = read_environment({})
    assert found.data == tmp_path / ".data"
    assert found.hosts == ["localhost", "127.0.0.1", "[::1]"]
    assert found.broker_url == "filesystem://"
    assert found.database_url == f"sqlite:///{tmp_path}/.data/fieldnights.sqlite3"
    assert not found.https


def test_the_data_folder_is_closed_to_others(tmp_path: Path) -> None:
    folder = read_environment({"FIELDNIGHTS_DATA": str(tmp_path / "deep" / "data")}).data
    assert folder.stat().st_mode & 0o777 == 0o700


def test_a_host_that_others_reach_means_https_unless_somebody_says_no(tmp_path: Path) -> None:
    outside = {"FIELDNIGHTS_DATA": str(tmp_path), "FIELDNIGHTS_HOSTS": "club.example.org"}
    assert read_environment(outside).https
    assert not read_environment(outside | {"FIELDNIGHTS_HTTPS": "0"}).https


@pytest.mark.parametrize(
    ("name", "value", "right"),
    [
        ("FIELDNIGHTS_HTTPS", "perhaps", "write 1 or 0"),
        ("FIELDNIGHTS_LEASE_SECONDS", "0", "a whole number above 0"),
        ("FIELDNIGHTS_LEASE_SECONDS", "soon", "a whole number above 0"),
    ],
)
def test_a_mistake_names_the_variable_the_value_and_what_would_be_right(
    name: str, value: str, right: str, tmp_path: Path
) -> None:
    with pytest.raises(ImproperlyConfigured) as refusal:
        read_environment({"FIELDNIGHTS_DATA": str(tmp_path), name: value})
    assert f"{name} is “{value}”" in str(refusal.value)
    assert right in str(refusal.value)


def test_a_data_folder_that_cannot_be_made_is_named(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(ImproperlyConfigured, match="Name a folder"):
        read_environment({"FIELDNIGHTS_DATA": str(tmp_path / "file" / "data")})


def test_a_mistake_ends_a_command_with_its_sentence_alone() -> None:
    done = subprocess.run(
        [sys.executable, "manage.py", "check"],
        cwd=ROOT,
        env={"FIELDNIGHTS_DATA": "/dev/null/data"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode != 0
    assert done.stderr.startswith("FIELDNIGHTS_DATA names /dev/null/data")
    assert done.stderr.count("\n") == 1


def test_a_key_is_made_once_and_kept_for_its_owner_alone(tmp_path: Path) -> None:
    key = kept_key(tmp_path, "secret-key")
    assert kept_key(tmp_path, "secret-key") == key
    assert len(key) >= 50
    (kept,) = tmp_path.iterdir()
    assert kept.stat().st_mode & 0o777 == 0o600


def test_two_keys_are_not_the_same(tmp_path: Path) -> None:
    assert kept_key(tmp_path, "secret-key") != kept_key(tmp_path, "link-key")
