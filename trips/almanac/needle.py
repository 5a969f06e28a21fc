"""What a compass shows at a place on a day, in words, and how far to trust it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from sky.compass import Declination, declination_at
from sky.errors import SkyError
from sky.place import Place
from trips.almanac.wording import sentence


@dataclass(frozen=True, slots=True)
class Needle:
    """`declination_degrees`, east positive, in tenths: None where no needle is to be followed, past
    the model's last day and beside a magnetic pole. `caution` is said where it pulls weakly."""

    declination_degrees: float | None
    sentences: tuple[str, ...]
    caution: str = ""

    def by_compass(self, azimuth_degrees: float) -> float | None:
        """Give what the needle's circle shows in a true direction."""
        if self.declination_degrees is None:
            return None
        return (azimuth_degrees - self.declination_degrees) % 360


def needle_at(place: Place, day: date) -> Needle:
    """Give the needle; a day without a model has its sentence and no number."""
    try:
        found = declination_at(place, day)
    except SkyError as error:
        return Needle(None, (sentence(error),))
    if found.trust == "blackout":
        return Needle(None, (_model(found),), _useless())
    tenths = round(found.degrees, 1)
    caution = _slow() if found.trust == "caution" else ""
    return Needle(tenths, (_points(tenths), _model(found), _iron()), caution)


def _points(degrees: float) -> str:
    words = {"degrees": f"{abs(degrees):.1f}°"}
    if degrees > 0:
        return (
            _(
                "A needle points %(degrees)s east of true north: set %(degrees)s east on a compass"
                " that can be set, or take %(degrees)s off a true direction to follow it."
            )
            % words
        )
    if degrees < 0:
        return (
            _(
                "A needle points %(degrees)s west of true north: set %(degrees)s west on a compass"
                " that can be set, or add %(degrees)s to a true direction to follow it."
            )
            % words
        )
    return _("A needle points to true north here, within a tenth of a degree.")


def _model(found: Declination) -> str:
    words = {"model": found.model, "day": date_format(found.last_day, "j F Y")}
    if found.uncertainty_degrees is None or found.trust == "blackout":
        return _("World Magnetic Model %(model)s, valid through %(day)s.") % words
    words["error"] = f"{found.uncertainty_degrees:.1f}°"
    return (
        _("World Magnetic Model %(model)s, valid through %(day)s; its standard error is %(error)s.")
        % words
    )


def _useless() -> str:
    return _(
        "Follow no compass here: beside the magnetic pole the pull on a needle is too weak. Take"
        " directions from stars, landmarks or a map."
    )


def _slow() -> str:
    return _(
        "Near the magnetic pole a needle is slow and easily led astray: check it by a landmark or a"
        " star."
    )


def _iron() -> str:
    """Common practice, no published source."""
    return _(
        "Iron moves a needle by more: keep some steps away from cars, tripods, tools and phones."
        " Rock can hold iron too: sight along one line from both its ends, and trust neither where"
        " the two are not 180° apart."
    )
