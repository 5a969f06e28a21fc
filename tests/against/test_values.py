"""Every reference value says where it comes from."""

from __future__ import annotations

import pytest

from tests.against.published import VALUES, rows

SUBJECTS = sorted(path.stem for path in VALUES.glob("*.json"))


@pytest.mark.parametrize("subject", SUBJECTS)
def test_each_row_names_its_source_unit_and_tolerance(subject: str) -> None:
    assert rows(subject)
    for row in rows(subject):
        assert set(row) == {"id", "inputs", "expected", "unit", "tolerance", "source", "note"}
        assert row["source"], row["id"]
        assert row["unit"], row["id"]
        assert row["tolerance"], row["id"]


def test_no_identity_is_used_twice() -> None:
    identities = [row["id"] for subject in SUBJECTS for row in rows(subject)]
    assert len(identities) == len(set(identities))
