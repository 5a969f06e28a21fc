"""Compare many places over a season. Reads a table, no database."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.core.management.base import CommandParser
from django.utils.translation import gettext as _

from trips.almanac.comparison import PlaceFigures, Question, compare_places
from trips.almanac.dates import check_dates
from trips.almanac.places import Place, looks_swapped, zone_at, zone_misfit
from trips.almanac.wording import SkyError, sentence
from trips.management.plain import (
    PlainCommand,
    RefusalError,
    add_season_options,
    progress,
    read_clock,
    read_dark_level,
    read_date,
    read_number,
)
from trips.management.printing import Record, as_csv, as_json, as_table
from trips.numbers import in_figures
from trips.tabular import Line, TableError, read_table

REQUIRED = ("name", "latitude", "longitude", "elevation_m")
OPTIONAL = ("zone",)
# More notes than this hide the others.
MOST_NOTES = 5

# Before the month in the heading of a column.
OF_MONTH = "moonless_hours_"

COLUMNS = {
    "name": "name",
    "nights": "nights",
    "candidate_nights": "candidates",
    "dark_hours": "dark h",
    "moonless_hours": "moonless h",
    "usable_dark_hours": "usable dark h",
    "longest_run": "longest run",
}


@dataclass(frozen=True, slots=True)
class Named:
    """A place of the table, with its name, its longitude as typed and the number of its line."""

    line: int
    name: str
    longitude: float
    place: Place


class Command(PlainCommand):
    help = (
        "Compare places over a season: candidate nights, dark and moonless hours by month.\n"
        "The file has the columns name,latitude,longitude,elevation_m and, if wanted, zone."
    )
    example = (
        "example:\n"
        "  manage.py compare --sites sites.csv --start 2027-01-01 --end 2027-12-31 --format csv"
    )
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--sites", required=True, metavar="FILE.csv")
        parser.add_argument(
            "--least-hours",
            default="2",
            metavar="HOURS",
            help=_("of moonless dark that make a candidate night; default: 2"),
        )
        parser.add_argument(
            "--out-until",
            default="02:00",
            metavar="HOUR",
            help=_("candidate hours run from civil dusk until then; default: 02:00"),
        )
        parser.add_argument(
            "--usable-dark",
            action="store_true",
            help=_("add the usable dark overhead, under skyglow estimated from towns; slow"),
        )
        parser.add_argument("--processes", type=int, default=2, help=_("default: 2"))
        add_season_options(parser)

    def handle(self, **options: Any) -> None:
        question = _question(options)
        try:
            named = _read_places(Path(options["sites"]))
        except TableError as error:
            raise RefusalError(str(error)) from error
        self._note([text for each in named if (text := _doubt(each))])
        figures: list[PlaceFigures] = []
        with progress(len(named), "site") as bar:
            places = [each.place for each in named]
            for block in compare_places(places, question, processes=options["processes"]):
                figures += block
                bar.update(len(block))
        records = [_record(place, found) for place, found in zip(named, figures, strict=True)]
        self.stdout.write(_rendered(records, options["format"]))
        pairs = zip(named, figures, strict=True)
        self._note([text for pair in pairs if (text := _no_candidates(*pair, question))])

    def _note(self, notes: list[str]) -> None:
        for note in notes[:MOST_NOTES]:
            self.stderr.write(note)
        if len(notes) > MOST_NOTES:
            self.stderr.write(_("… and %d more like these.") % (len(notes) - MOST_NOTES))


def _question(options: dict[str, Any]) -> Question:
    first = read_date("--start", options["start"])
    last = read_date("--end", options["end"])
    least_hours = read_number("--least-hours", options["least_hours"])
    if not 0 <= least_hours <= 24:
        words = _("--least-hours: %s is outside 0 to 24 hours.")
        raise RefusalError(words % in_figures(least_hours))
    if options["processes"] < 1:
        raise RefusalError(_("--processes: %d is fewer than one.") % options["processes"])
    try:
        check_dates(first, last)
    except SkyError as error:
        raise RefusalError(sentence(error)) from error
    return Question(
        first=first,
        last=last,
        dark_level=read_dark_level(options["dark_level"]),
        least_hours=least_hours,
        out_until=read_clock("--out-until", options["out_until"]),
        is_sky_asked=options["usable_dark"],
    )


def _read_places(path: Path) -> list[Named]:
    """Read all places or refuse the file."""
    try:
        data = path.read_bytes()
    except OSError as error:
        raise RefusalError(
            _("--sites: %(path)s cannot be read: %(why)s.")
            % {"path": path, "why": error.strerror or error}
        ) from error
    return [_place(line) for line in read_table(data, required=REQUIRED, optional=OPTIONAL)]


def _place(line: Line) -> Named:
    name = line.required("name")
    latitude, longitude = line.decimal("latitude"), line.decimal("longitude")
    elevation_m, zone = line.decimal("elevation_m"), line.text("zone")
    try:
        # Without a zone first: where the position is out of range no zone can be found.
        place = Place(latitude, longitude, elevation_m)
        zone = zone or zone_at(place.latitude, place.longitude)
        return Named(line.number, name, longitude, Place(latitude, longitude, elevation_m, zone))
    except SkyError as error:
        raise TableError(
            _("Line %(line)d: %(sentence)s") % {"line": line.number, "sentence": sentence(error)}
        ) from error


def _doubt(named: Named) -> str | None:
    """Say that a zone does not fit its position; a doubt refuses nothing."""
    place = named.place
    found = zone_misfit(place.zone, place.latitude, place.longitude)
    if found is None:
        return None
    doubt = _("Note, line %(line)d: %(found)s is kept at %(name)s, not %(zone)s.") % {
        "line": named.line,
        "found": found,
        "name": named.name,
        "zone": place.zone,
    }
    if looks_swapped(place.zone, place.latitude, place.longitude):
        doubt += " " + _("Latitude and longitude may be swapped.")
    return doubt


def _no_candidates(named: Named, found: PlaceFigures, question: Question) -> str | None:
    """Never say "none" without saying what the next levels give."""
    if found.candidates or not found.candidates_by_lighter_level:
        return None
    others = found.candidates_by_lighter_level.items()
    return _("Note, %(name)s has no candidate night at %(level)d°; %(others)s.") % {
        "name": named.name,
        "level": question.dark_level,
        "others": ", ".join(
            _("at %(level)d° it has %(count)d") % {"level": level, "count": count}
            for level, count in others
        ),
    }


def _record(named: Named, found: PlaceFigures) -> Record:
    usable = found.usable_dark_hours
    return {
        "name": named.name,
        "latitude": named.place.latitude,
        "longitude": named.longitude,
        "elevation_m": named.place.elevation_m,
        "zone": named.place.zone,
        "nights": found.nights,
        "candidate_nights": found.candidates,
        "dark_hours": round(found.dark_hours, 3),
        "moonless_hours": round(found.moonless_hours, 3),
        **({} if usable is None else {"usable_dark_hours": round(usable, 3)}),
        "moonless_hours_by_month": {
            f"{year}-{month:02}": round(hours, 3)
            for (year, month), hours in found.moonless_by_month.items()
        },
        "longest_run": found.longest_run,
    }


def _flattened(record: Record) -> Record:
    """Give each month a column of its own."""
    flat = dict(record)
    by_month = flat.pop("moonless_hours_by_month")
    return flat | {OF_MONTH + month: hours for month, hours in by_month.items()}


def _rendered(records: list[Record], form: str) -> str:
    if form == "json":
        return as_json(records)
    flat = [_flattened(record) for record in records]
    if form == "csv":
        return as_csv(flat)
    figures = {key: heading for key, heading in COLUMNS.items() if key in flat[0]}
    months = (key for key in flat[0] if key.startswith(OF_MONTH))
    return as_table(flat, figures | {key: key.removeprefix(OF_MONTH) for key in months})
