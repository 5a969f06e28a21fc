"""Adding an evening's readings of darkness: they are echoed before they are saved."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods

from trips.almanac.bearings import POINTS
from trips.almanac.local_time import local
from trips.almanac.readings import toward
from trips.forms.darkness import (
    EXPOSURE,
    FRAME,
    METER,
    PREFIX,
    WHEN,
    ReadingForm,
    ReadingFormSet,
    ReadingsForm,
)
from trips.forms.layout import Mistake, laid_out, mistakes, without_judging
from trips.models import DarknessReading, Site
from trips.services.cameras import meters_of
from trips.services.darkness import MOST_AT_ONCE, add_readings, doubts, refusals
from trips.templatetags.comparing import magnitudes
from trips.views.form_rows import FormRows
from trips.views.kept_typing import typing_kept
from trips.views.members import member, site_of

ADD_ROW = "add_reading"  # the name of a button
ROW = ("direction", "magnitude", "level", "milky_way_overhead")
# Every 45° around: what the list beside a direction offers.
OFFERED = [(f"{45 * n}", POINTS[2 * n]) for n in range(8)]


@dataclass(frozen=True, slots=True)
class Echo:
    """What would be saved: the evening and the clock in words, and where it was how bright."""

    when: str
    lines: list[tuple[str, str]]
    doubts: list[str]


@require_http_methods(["GET", "HEAD", "POST"])
@typing_kept
def darkness_add(request: HttpRequest, site_id: int) -> HttpResponse:
    return _Adding(request, site_of(request, site_id)).answer()


class _Adding:
    """One showing of the form: as it is, with a row more, refused, echoed, or saved."""

    def __init__(self, request: HttpRequest, site: Site) -> None:
        self.request, self.site, self.now = request, site, timezone.now()
        self.typed: QueryDict | None = request.POST if request.method == "POST" else None
        asked = self.typed if self.typed is not None else request.GET
        self.how = FRAME if asked.get("how") == FRAME else METER
        self.echo: Echo | None = None
        self._read()

    def _read(self) -> None:
        initial = {"evening": self.request.GET.get("evening")}  # whence a link led here
        self.form = ReadingsForm(self.typed, site=self.site, how=self.how, initial=initial)
        self.rows = ReadingFormSet(
            self.typed,
            instance=self.site,
            queryset=DarknessReading.objects.none(),
            prefix=PREFIX,
            form_kwargs={"how": self.how},
            initial=[{"direction": "zenith"}],
        )

    def answer(self) -> HttpResponse:
        if self.typed is not None and ADD_ROW in self.typed:
            self._add_row(self.typed)
        elif self.typed is not None and self._is_valid():
            readings = [row.reading(self.form.shared()) for row in self._filled()]
            if self._are_possible(readings):
                if self.form.cleaned_data["seen"] == _mark(readings):
                    return self._saved(readings)
                self._show(readings)
        return render(self.request, "trips/darkness_add.html", self._context())

    def _filled(self) -> list[ReadingForm]:
        return [row for row in self.rows.forms if row.has_changed()]

    def _is_valid(self) -> bool:
        # Both are asked, so that every mistake is shown at once.
        is_right = all([self.form.is_valid(), self.rows.is_valid()])
        if self.how == FRAME:
            for row in self._filled():
                row.read_frame(self.form)
        if is_right and not self._filled():
            self.form.add_error(None, _("No reading is written down: fill in a row at least."))
        self._refuse_twice()
        return is_right and self.form.is_valid() and not any(row.errors for row in self.rows.forms)

    def _refuse_twice(self) -> None:
        seen: set[float | None] = set()
        for row in self._filled():
            toward_there = getattr(row, "cleaned_data", {}).get("direction", -1.0)
            if toward_there in seen:
                row.add_error("direction", _("This direction stands above already; keep one."))
            if toward_there != -1.0:
                seen.add(toward_there)

    def _are_possible(self, readings: list[DarknessReading]) -> bool:
        """Most refusals are about the moment that all share: each is told once."""
        said = [words for one in readings for words in refusals(self.site, one, now=self.now)]
        for words in dict.fromkeys(said):
            self.form.add_error(None, words)
        return not said

    def _add_row(self, typed: QueryDict) -> None:
        self.typed = FormRows(PREFIX, ROW, {}, MOST_AT_ONCE).with_another(typed)
        self._read()
        self.rows.forms[-1].fields["direction"].widget.attrs["autofocus"] = True
        without_judging(self.form)
        self.rows._errors, self.rows._non_form_errors = [], self.rows.error_class()
        for row in self.rows.forms:
            without_judging(row)

    def _show(self, readings: list[DarknessReading]) -> None:
        """Give back the form as typed, with what it says marked as seen."""
        data: Any = self.form.data.copy()  # type: ignore[attr-defined]  # a QueryDict
        data["seen"] = _mark(readings)
        self.form.data = data
        of_frames = [words for row in self._filled() for words in row.doubts()]
        self.echo = Echo(
            _when(readings[0], self.site),
            [(toward(one.azimuth_degrees), magnitudes(one.magnitude)) for one in readings],
            [*of_frames, *doubts(self.site, readings)],
        )

    def _saved(self, readings: list[DarknessReading]) -> HttpResponse:
        before = self.site.sky_brightness
        try:
            add_readings(self.site, readings, by=member(self.request), now=self.now)
        except ValidationError as error:
            self.form.add_error(None, error)
            return render(self.request, "trips/darkness_add.html", self._context())
        count = len(readings)
        words = ngettext("%(count)d reading is in the log.", "%(count)d readings are in the log.",
                         count)  # fmt: skip
        messages.success(self.request, words % {"count": count})
        self.site.refresh_from_db()
        if self.site.sky_brightness != before and self.site.sky_brightness is not None:
            words = _("%(site)s now counts as %(magnitude)s mag/arcsec² at the zenith.")
            magnitude = magnitudes(self.site.sky_brightness)
            told = words % {"site": self.site.name, "magnitude": magnitude}
            messages.info(self.request, told)
        return redirect(reverse("site_detail", args=[self.site.pk]) + "#darkness")

    def _context(self) -> dict[str, Any]:
        return {
            "site": self.site,
            "form": self.form,
            "rows": self.rows,
            "when": laid_out(self.form, [WHEN])[0],
            "exposure": laid_out(self.form, [EXPOSURE])[0] if self.how == FRAME else None,
            "is_frame": self.how == FRAME,
            "has_meters": self.how != FRAME or bool(meters_of(self.site.organisation)),
            "may_add_row": self.rows.total_form_count() < MOST_AT_ONCE,
            "offered": OFFERED,
            "echo": self.echo,
            "mistakes": [*mistakes(self.form), *self._row_mistakes()],
        }

    def _row_mistakes(self) -> Iterator[Mistake]:
        """Say which row it is: all of them have fields of the same names."""
        for number, row in enumerate(self.rows.forms, 1):
            for one in mistakes(row):
                names = {"number": number, "field": one.label.lower()}
                label = _("Reading %(number)d, %(field)s") if one.label else _("Reading %(number)d")
                yield replace(one, label=label % names)


def _mark(readings: list[DarknessReading]) -> str:
    """Give what the echo shows, as one string that a hidden field can carry."""
    shared = readings[0]
    said = [shared.at.isoformat(), shared.moon_up, shared.snow]
    said += [(one.azimuth_degrees, one.magnitude) for one in readings]
    return "|".join(map(str, said))


def _when(reading: DarknessReading, site: Site) -> str:
    there = local(reading.at, site.zone)
    names = {
        "day": date_format(there, "l j F Y"),
        "clock": f"{there:%H:%M}",
        "zone": site.zone,
        "offset": f"{there:%z}"[:3] + ":" + f"{there:%z}"[3:],
    }
    return _("%(day)s, %(clock)s in %(zone)s (UTC%(offset)s)") % names
