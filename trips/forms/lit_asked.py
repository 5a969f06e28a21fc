"""What the page of lit, then dark asks: which face, in which season, dark with which target."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac.bearings import bearing
from trips.almanac.lit_then_dark import HIGHEST_MOON_DEGREES, USUAL_LIGHT, SideLight
from trips.almanac.windows import known
from trips.forms.ranges import BetweenField
from trips.forms.words import word_mistakes
from trips.models import Landmark, Season, Spot, TargetEntry

DARK_ALONE, BY_DATE = "dark", "date"
USUAL_PERCENT = (100 * USUAL_LIGHT.illuminated[0], 100 * USUAL_LIGHT.illuminated[1])


class LitForm(forms.Form):
    landmark = forms.ChoiceField(label=gettext_lazy("Face of"))
    season = forms.ChoiceField(label=gettext_lazy("Season"))
    target = forms.ChoiceField(
        label=gettext_lazy("Dark with"),
        required=False,
        help_text=gettext_lazy("A target of the season’s list."),
    )
    order = forms.ChoiceField(
        label=gettext_lazy("Order"),
        required=False,
        choices=[
            ("", gettext_lazy("longest dark first")),
            (BY_DATE, gettext_lazy("by date")),
        ],
    )
    aside = BetweenField(
        label=gettext_lazy("Moon aside (°)"),
        usual=USUAL_LIGHT.angles,
        low=0,
        high=90,
        help_text=gettext_lazy("0 is straight in front, 90 along the wall."),
    )
    height = BetweenField(
        label=gettext_lazy("Moon high (°)"),
        usual=USUAL_LIGHT.altitudes,
        low=0,
        high=HIGHEST_MOON_DEGREES,
    )
    lit = BetweenField(label=gettext_lazy("Moon lit (%)"), usual=USUAL_PERCENT, low=0, high=100)

    def __init__(
        self, faces: Sequence[Landmark], seasons: Sequence[Season], chosen: Season, **options: Any
    ) -> None:
        """`chosen` is the season whose list the targets are of."""
        super().__init__(auto_id="ask_%s", label_suffix="", **options)
        self.faces = {str(face.pk): face for face in faces}
        self.seasons = {str(season.pk): season for season in seasons}
        self.entries = {str(entry.pk): entry for entry in _entries(chosen)}
        self._choose("landmark", [(key, _face_words(face)) for key, face in self.faces.items()])
        self._choose("season", [(key, season.name) for key, season in self.seasons.items()])
        named = [(key, entry.name) for key, entry in self.entries.items()]
        self._choose("target", [*named, (DARK_ALONE, _("nothing: moonless dark alone"))])
        for name, field in self.fields.items():
            word_mistakes(name, field)

    def _choose(self, name: str, choices: Sequence[Any]) -> None:
        field = self.fields[name]
        assert isinstance(field, forms.ChoiceField)  # noqa: S101 - for the type checker
        field.choices = choices


@dataclass(frozen=True, slots=True)
class Question:
    """What was asked, read; without an `entry` the moonless dark alone counts."""

    landmark: Landmark
    season: Season
    entry: TargetEntry | None
    light: SideLight
    is_by_date: bool


def read_question(
    asked: QueryDict, spot: Spot, faces: Sequence[Landmark], *, today: date
) -> tuple[LitForm | None, Question | None]:
    """Read the address; what it leaves out is as usual: the first face, the season that is on or
    next, the target that counts most. No form where the spot has no face, or its site no season."""
    seasons = list(spot.site.seasons.current().select_related("target_list"))
    if not faces or not seasons:
        return None, None
    usual = _usual(seasons, today)
    named = (season for season in seasons if str(season.pk) == asked.get("season"))
    chosen = next(named, usual)
    filled = asked.copy()
    filled.setdefault("landmark", str(faces[0].pk))
    filled.setdefault("season", str(usual.pk))
    for name, field in LitForm.base_fields.items():
        if isinstance(field, BetweenField):
            filled.setdefault(name, field.example)
    form = LitForm(faces, seasons, chosen, data=filled)
    filled.setdefault("target", next(iter(form.entries), DARK_ALONE))
    if not form.is_valid():
        return form, None
    said = form.cleaned_data
    return form, Question(
        landmark=form.faces[said["landmark"]],
        season=form.seasons[said["season"]],
        entry=form.entries.get(said["target"]),
        light=SideLight(said["aside"], said["height"], _fractions(said["lit"])),
        is_by_date=said["order"] == BY_DATE,
    )


def _fractions(percent: tuple[float, float]) -> tuple[float, float]:
    return percent[0] / 100, percent[1] / 100


def _usual(seasons: Sequence[Season], today: date) -> Season:
    ahead = [season for season in seasons if season.last_night >= today]
    return min(ahead or seasons, key=lambda season: season.first_night)


def _entries(season: Season) -> list[TargetEntry]:
    """Give the season's targets, those that count most first."""
    if season.target_list is None:
        return []
    entries = known(season.target_list.entries.all())
    return sorted(entries, key=lambda entry: -entry.weight)


def _face_words(face: Landmark) -> str:
    """Give "Kiln, looks north, 4°"."""
    return _("%(name)s, looks %(bearing)s") % {
        "name": face.name,
        "bearing": bearing(face.face_degrees or 0.0),
    }
