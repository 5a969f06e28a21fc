"""Numbers in sentences: as people write them, however absurd."""

from __future__ import annotations

import pytest
from django.core.exceptions import ValidationError

from sky.camera.lens import Lens
from sky.errors import SkyError
from trips.almanac.wording import sentence
from trips.forms.fields import DecimalField
from trips.numbers import Figure, in_figures


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (24.0, "24"),
        (0.1 + 0.2, "0.3"),
        (-1.1, "−1.1"),
        (1e6, "1000000"),
        (1234567.5, "1234567.5"),
        (0.00002, "0.00002"),
        (0.0, "0"),
        (-0.0, "0"),
        (3e40, "3·10⁴⁰"),
        (-2.5e-9, "−2.5·10⁻⁹"),
        (float("inf"), "inf"),
    ],
)
def test_a_number_is_written_as_people_do(number: float, words: str) -> None:
    assert in_figures(number) == words
    assert f"{Figure(number)!s} {Figure(number):.1f}" == f"{words} {number:.1f}"


def test_a_refusal_says_what_was_typed_without_an_exponent() -> None:
    with pytest.raises(SkyError) as refused:
        Lens(2e9)
    assert "2000000000 mm" in sentence(refused.value)
    field = DecimalField(low=-1, high=1e6, example="3")
    with pytest.raises(ValidationError) as mistyped:
        field.clean("3e9")
    assert mistyped.value.messages == ["3000000000 is out of range: it must be from −1 to 1000000."]
