"""What people type about a spot: where it is, its skyline, and rows of landmarks."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from trips.almanac.skylines import stored_points
from trips.almanac.spots import bearing_from
from trips.almanac.wording import SkyError
from trips.forms.fields import DecimalField
from trips.forms.layout import Group, dress
from trips.forms.position import PositionForm
from trips.forms.rows import rows_of
from trips.forms.site import MOST_HAZARDS, HazardForm
from trips.forms.typed_position import read_position
from trips.models import Hazard, Landmark, Spot
from trips.skyline_table import read_skyline_table, read_skyline_text, write_skyline_text
from trips.tabular import TableError

PLACE = Group(
    "place",
    gettext_lazy("The place"),
    ("name", "latitude", "longitude", "elevation_m", "tripods", "walk_minutes"),
    is_folded=False,
)
NOTES = Group("notes", gettext_lazy("Notes"), ("notes",))

# A skyline of the most points, with many decimals.
LONGEST_SKYLINE = 200_000
# Of a landmark: nearer it has no direction, farther nothing on the ground can be seen.
NEAREST_M, FARTHEST_M = 1.0, 500_000.0
# A typed azimuth and the one of a position that differ by more contradict each other.
SAME_DIRECTION_DEGREES = 0.5
_DECIMAL = {"inputmode": "decimal", "autocomplete": "off"}
_WITH_SIGN = {"inputmode": "text", "autocomplete": "off", "spellcheck": "false"}


class SkylineField(forms.CharField):
    """A skyline as lines of text; its value is a list of [azimuth, altitude], ascending."""

    def __init__(self, **options: Any) -> None:
        text = forms.Textarea(attrs={"rows": "10", "spellcheck": "false", "autocomplete": "off"})
        super().__init__(required=False, max_length=LONGEST_SKYLINE, widget=text, **options)
        self.notices: tuple[str, ...] = ()

    def to_python(self, value: Any) -> list[list[float]]:  # type: ignore[override]  # points
        try:
            read = read_skyline_text(super().to_python(value) or "")
        except TableError as error:
            raise ValidationError(str(error), code="invalid") from None
        self.notices = read.notices
        return stored_points(read.skyline)

    def run_validators(self, value: Any) -> None:
        """Leave out the validators of texts: the value is none."""

    def prepare_value(self, value: Any) -> Any:
        return value if isinstance(value, str) else write_skyline_text(value or ())

    def in_words(self, value: Any) -> str:
        """Say how much there is of it: nobody reads hundreds of points."""
        count = len(value or ())
        if not count:
            return _("level, not measured")
        return ngettext("%(count)d point", "%(count)d points", count) % {"count": count}


class SpotForm(PositionForm):
    """A spot. A file with a skyline is put into the text area, which alone is saved."""

    tripods = forms.IntegerField(
        min_value=1,
        max_value=200,
        required=False,
        label=gettext_lazy("Tripods"),
        help_text=gettext_lazy("How many stand there side by side."),
    )
    walk_minutes = forms.IntegerField(
        min_value=0,
        max_value=1440,
        required=False,
        label=gettext_lazy("Minutes on foot"),
        help_text=gettext_lazy("From where the cars stay, in the dark and with tripods."),
    )
    skyline = SkylineField(
        label=gettext_lazy("Skyline"),
        help_text=gettext_lazy(
            "An azimuth and an altitude a line, in degrees: 120 3.5. From true north through east; "
            "empty means level."
        ),
    )
    skyline_file = forms.FileField(
        required=False,
        label=gettext_lazy("Or a table"),
        help_text=gettext_lazy(
            "CSV with the columns azimuth and altitude. It takes the place of what is written here."
        ),
    )
    version = forms.IntegerField(widget=forms.HiddenInput, required=False)
    opened = forms.CharField(widget=forms.HiddenInput, required=False)
    instance: Spot

    class Meta:
        model = Spot
        fields = [
            "name",
            "latitude",
            "longitude",
            "elevation_m",
            "tripods",
            "walk_minutes",
            "skyline",
            "skyline_how",
            "notes",
        ]

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self._file_refused = ""
        self._put_file_into_text()
        dress(self)
        self.fields["skyline_file"].error_messages["empty"] = _("The file is empty.")
        self.fields["version"].initial = self.instance.version

    @property
    def notices(self) -> tuple[str, ...]:
        """Give what was accepted and should be known of the skyline."""
        field = self.fields["skyline"]
        return field.notices if isinstance(field, SkylineField) else ()

    def clean_name(self) -> str:
        name = str(self.cleaned_data["name"])
        same = self.instance.site.spots.current().filter(name=name).exclude(pk=self.instance.pk)
        if same.exists():
            raise ValidationError(
                _("There is already a spot named “%(name)s” here; give this one another name."),
                params={"name": name},
            )
        return name

    def clean_skyline_file(self) -> None:
        if self._file_refused:
            raise ValidationError(self._file_refused)

    def _put_file_into_text(self) -> None:
        """So a page that is shown again has it, and what is saved is what was seen."""
        uploaded = self.files.get("skyline_file") if self.is_bound else None
        if not uploaded:
            return
        try:
            points = read_skyline_table(uploaded.read()).skyline.points
        except TableError as error:
            self._file_refused = str(error)
            return
        self.data = self.data.copy()  # type: ignore[attr-defined]  # a QueryDict or a dict
        self.data["skyline"] = write_skyline_text(points)  # type: ignore[index]


class LandmarkForm(forms.ModelForm):  # type: ignore[type-arg]  # not subscriptable when it runs
    """A landmark by its azimuth, or by its position, from which the azimuth is found."""

    azimuth_degrees = DecimalField(
        low=0, high=360, example="214.5", required=False, label=gettext_lazy("Azimuth (°)")
    )
    top_degrees = DecimalField(
        low=-90, high=90, example="4.5", label=gettext_lazy("Altitude of its top (°)")
    )
    width_degrees = DecimalField(
        low=0, high=180, example="1.5", required=False, label=gettext_lazy("Width (°)")
    )
    face_degrees = DecimalField(
        low=0, high=360, example="325", required=False, label=gettext_lazy("Its face looks to (°)")
    )
    distance_m = DecimalField(
        low=NEAREST_M,
        high=FARTHEST_M,
        example="500",
        required=False,
        label=gettext_lazy("Distance (m)"),
    )
    position = forms.CharField(required=False, max_length=80, label=gettext_lazy("Or its position"))

    class Meta:
        model = Landmark
        fields = [
            "name",
            "azimuth_degrees",
            "top_degrees",
            "width_degrees",
            "face_degrees",
            "distance_m",
            "is_seen_at_night",
        ]
        # Said once above the rows, of which there can be forty.
        help_texts: ClassVar = {"is_seen_at_night": ""}

    def __init__(self, *args: Any, spot: Spot, **options: Any) -> None:
        super().__init__(*args, **options)
        self._spot = spot
        self.fields["position"].initial = typed_position(self.instance)
        for name, field in self.fields.items():
            if name.endswith(("_degrees", "_m")):
                field.widget.attrs.update(_WITH_SIGN if name == "top_degrees" else _DECIMAL)
        self.fields["position"].widget.attrs.update(_WITH_SIGN)
        dress(self)

    def clean_position(self) -> tuple[float, float] | None:
        typed = str(self.cleaned_data["position"])
        found = read_position(typed)
        if typed and found is None:
            raise ValidationError(
                _("“%(value)s” is no position; write it like 40.41, −1.62."),
                params={"value": typed},
            )
        return found

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        position = cleaned.get("position")
        if position is not None:
            self._aim(*position)
        elif cleaned.get("azimuth_degrees") is None and not self.errors:
            self.add_error(
                "azimuth_degrees",
                _("No direction is written here; write an azimuth or a position."),
            )
        return cleaned

    def _aim(self, latitude: float, longitude: float) -> None:
        """Find the azimuth, and refuse one that was typed and points elsewhere."""
        typed = self.cleaned_data.get("azimuth_degrees")
        try:
            bearing = bearing_from(self._spot, latitude, longitude)
        except SkyError:
            self.add_error("position", _("That is no position on the Earth; look at it again."))
            return
        if not NEAREST_M <= bearing.distance_m <= FARTHEST_M:
            words = _("That position lies %(distance)s from the spot; look at it again.")
            self.add_error("position", words % {"distance": _far(bearing.distance_m)})
            return
        found = bearing.azimuth_degrees
        apart = abs((found - (typed or found) + 180) % 360 - 180)
        if "azimuth_degrees" in self.changed_data and apart > SAME_DIRECTION_DEGREES:
            words = _("The position lies toward %(azimuth)s°: leave one of the two empty.")
            self.add_error("azimuth_degrees", words % {"azimuth": f"{found:.1f}"})
        self.cleaned_data["azimuth_degrees"] = found

    def _post_clean(self) -> None:
        position = self.cleaned_data.get("position") or (None, None)
        self.instance.latitude, self.instance.longitude = position
        super()._post_clean()  # type: ignore[misc]  # its stubs leave it out


def _far(distance_m: float) -> str:
    if distance_m < NEAREST_M:
        return _("less than a metre")
    return _("%(km)d km") % {"km": round(distance_m / 1000)}


def typed_position(landmark: Landmark) -> str:
    """Give a landmark's position as it would be typed; "" where it has none."""
    if landmark.latitude is None or landmark.longitude is None:
        return ""
    return f"{landmark.latitude:.10g}, {landmark.longitude:.10g}"


MOST_LANDMARKS = 40
LandmarkFormSet: Any = rows_of(Spot, Landmark, form=LandmarkForm, extra=1, most=MOST_LANDMARKS)
SpotHazardFormSet: Any = rows_of(
    Spot, Hazard, form=HazardForm, fk_name="spot", extra=1, most=MOST_HAZARDS
)
