"""Print a night's brief: as published, or as it would be published now."""

from __future__ import annotations

import json
import sys
from datetime import date
from pathlib import Path
from typing import Any

from django.core.management.base import CommandParser
from django.utils import timezone
from django.utils.translation import gettext as _

from trips.almanac.wording import SkyError, sentence
from trips.management.plain import PlainCommand, RefusalError, read_date
from trips.management.season_options import add_organisation_option, nearest_first, written
from trips.models import Enrolment, Trip, TripNight
from trips.services.briefs.as_pdf import as_pdf
from trips.services.briefs.as_text import as_text
from trips.services.briefs.one_file import one_file
from trips.services.briefs.plans import OF_A_NIGHT
from trips.services.briefs.reading import Reading, read
from trips.services.briefs.without_reader import as_drafted, as_published
from trips.services.refusals import RefusedError

FORMATS = ("text", "html", "pdf", "json")
STANDARD_OUTPUT = "-"


class Command(PlainCommand):
    help = "Print the brief of a trip's night, as it was published last."
    example = (
        'example:\n  manage.py brief --trip "June core" --night 2027-06-05 --format pdf '
        "--out brief.pdf"
    )

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--trip", required=True, metavar="NAME")
        parser.add_argument("--night", required=True, metavar="DATE", help=_("its evening"))
        parser.add_argument("--person", metavar="NAME", help=_("as this person reads it"))
        parser.add_argument(
            "--draft", action="store_true", help=_("as it would be published now; says so")
        )
        parser.add_argument("--format", choices=FORMATS, default="text")
        parser.add_argument(
            "--out", default=STANDARD_OUTPUT, metavar="FILE", help=_("default: standard output")
        )
        add_organisation_option(parser)

    def handle(self, **options: Any) -> None:
        trip = _trip_named(options["trip"], options["organisation"])
        night = _night_of(trip, read_date("--night", options["night"]))
        try:
            reading = _reading(night, options["person"], is_draft=options["draft"])
            data = _in(options["format"], reading)
        except RefusedError as error:
            raise RefusalError(error.sentence) from error
        except SkyError as error:
            raise RefusalError(sentence(error)) from error
        self._say_which(reading)
        self._write(data, options["out"])

    def _say_which(self, reading: Reading) -> None:
        words = _("Version %(number)d.") if reading.number else _("A draft: not published.")
        self.stderr.write(words % {"number": reading.number})

    def _write(self, data: bytes, out: str) -> None:
        if out == STANDARD_OUTPUT:
            sys.stdout.buffer.write(data)
            return
        try:
            with Path(out).open("xb") as file:
                file.write(data)
        except OSError as error:
            words = _("--out: %(path)s cannot be written: %(why)s.")
            raise RefusalError(words % {"path": out, "why": error.strerror or error}) from error


def _trip_named(name: str, organisation: str | None) -> Trip:
    known = Trip.objects.select_related("organisation")
    found = list(known.filter(name=name))
    if organisation is not None:
        found = [trip for trip in found if trip.organisation.name == organisation]
    if not found:
        names = written(nearest_first(name, known.values_list("name", flat=True)))
        words = _("There is no trip “%(name)s”; known are: %(names)s.")
        raise RefusalError(words % {"name": name, "names": names})
    if len(found) > 1:
        owners = written(trip.organisation.name for trip in found)
        words = _("Several trips are named “%(name)s”; add --organisation: %(owners)s.")
        raise RefusalError(words % {"name": name, "owners": owners})
    trip: Trip = found[0]
    return trip


def _night_of(trip: Trip, evening: date) -> TripNight:
    nights: list[TripNight] = list(
        TripNight.objects.filter(trip=trip).select_related(*OF_A_NIGHT).order_by("date")
    )
    for night in nights:
        if night.date == evening:
            return night
    words = _("--night: the trip has no night of %(night)s; it has: %(nights)s.")
    names = ", ".join(f"{night.date}" for night in nights)
    raise RefusalError(words % {"night": evening, "nights": names})


def _reading(night: TripNight, person: str | None, *, is_draft: bool) -> Reading:
    if is_draft and person is not None:
        raise RefusalError(_("--draft: it has no person's own part yet; leave --person out."))
    if is_draft:
        return as_drafted(night, now=timezone.now())
    reading = as_published(night) if person is None else _own(night, person)
    if reading is None:
        words = _("Nothing is published of the night of %(night)s: publish it, or add --draft.")
        raise RefusalError(words % {"night": night.date})
    return reading


def _own(night: TripNight, person: str) -> Reading | None:
    people = Enrolment.objects.filter(trip=night.trip_id).coming()
    by_name = {one.person.name: one for one in people.select_related("person", "trip")}
    if person not in by_name:
        words = _("--person: “%(name)s” has no place on this trip; known are: %(names)s.")
        names = written(nearest_first(person, by_name))
        raise RefusalError(words % {"name": person, "names": names})
    return read(by_name[person], night.date)


def _in(form: str, reading: Reading) -> bytes:
    if form == "pdf":
        return as_pdf(reading)
    if form == "html":
        return one_file(reading).encode()
    if form == "json":
        facts = {"version": reading.number, "is_draft": not reading.number} | reading.facts
        return (json.dumps(facts, ensure_ascii=False, indent=2) + "\n").encode()
    return as_text(reading.facts, is_draft=not reading.number).encode()
