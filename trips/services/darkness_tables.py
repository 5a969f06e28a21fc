"""The log of darkness as a table: written with what a spreadsheet needs, read all or nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from trips.almanac.local_time import local
from trips.almanac.readings import instant_at, noon_of
from trips.models import DarknessReading, Site, User
from trips.numbers import in_figures
from trips.services.darkness import add_readings, doubts, refusals
from trips.services.sky_in_force import TYPED
from trips.tabular import Cell, Line, TableError, read_table

REQUIRED = ("time", "magnitude")
OPTIONAL = ("azimuth", "moon_up", "snow", "milky_way", "how", "note")
COLUMNS = ("time", "azimuth", "magnitude", *OPTIONAL[1:], "camera", "by")
MOST_BYTES, MOST_READINGS = 400_000, 2000
MOST_REFUSALS = 20
YES, NO = ("yes", "1", "true", "x"), ("", "no", "0", "false")


def rows_of(site: Site) -> Iterator[tuple[Cell, ...]]:
    """Give the log as rows of COLUMNS, the newest first; times on the site's clocks with offset.

    Of what was typed in the site's form only the evening is known.
    """
    for one in site.darkness_readings.select_related("camera", "by"):
        there = local(one.at, site.zone)
        yield (
            f"{there:%Y-%m-%d}" if one.how == TYPED else there.isoformat(timespec="minutes"),
            one.azimuth_degrees,
            one.magnitude,
            *(_yes(flag) for flag in (one.moon_up, one.snow, one.milky_way_overhead)),
            one.how,
            one.note,
            one.camera.name if one.camera else "",
            one.by.email if one.by else "",
        )


@dataclass(frozen=True, slots=True)
class TakenIn:
    """How many readings are new to the log, how many it had, and what to look at again."""

    added: int
    known: int
    doubts: list[str]


def take_in(site: Site, data: bytes, *, by: User | None, now: datetime) -> TakenIn:
    """Put a table's readings into the log; those that it has already are left alone.

    Errors: `ValidationError` with a sentence for each line refused; then none is taken.
    """
    read = readings_from_table(site, data, now=now)
    known = {_key(one) for one in site.darkness_readings.all()}
    new = list({_key(one): one for one in read if _key(one) not in known}.values())
    add_readings(site, new, by=by, now=now)
    return TakenIn(len(new), len(read) - len(new), doubts(site, new))


def _key(reading: DarknessReading) -> tuple[object, ...]:
    return (reading.at, reading.azimuth_degrees, round(reading.magnitude, 3))


def readings_from_table(site: Site, data: bytes, *, now: datetime) -> list[DarknessReading]:
    """Read a table of readings, unsaved.

    A time without an offset is on the site's clocks; an empty azimuth is the zenith; of one that
    was typed in the site's form only the evening is known. Errors: `ValidationError` with a
    sentence for each line refused.
    """
    if len(data) > MOST_BYTES:
        words = _("The file has %(size)d kB; a log of darkness has at most %(most)d.")
        raise ValidationError(words % {"size": len(data) // 1000, "most": MOST_BYTES // 1000})
    try:
        lines = read_table(data, required=REQUIRED, optional=OPTIONAL)
    except TableError as error:
        raise ValidationError(str(error)) from None
    if len(lines) > MOST_READINGS:
        words = _("A table may have %(most)d readings; this one has %(count)d.")
        raise ValidationError(words % {"most": MOST_READINGS, "count": len(lines)})
    refused: list[str] = []
    read = [_reading(site, line, refused, now) for line in lines]
    if refused:
        raise ValidationError(shortened(refused))
    return read


def shortened(said: list[str], most: int = MOST_REFUSALS) -> list[str]:
    more = len(said) - most
    return [*said[:most], _("… and %(count)d more.") % {"count": more}] if more > 0 else said


def _reading(site: Site, line: Line, refused: list[str], now: datetime) -> DarknessReading:
    """Give the reading of a line; what is wrong with it is added to what is refused."""
    before = len(refused)

    def cell(read: Callable[[], object]) -> object:
        try:
            return read()
        except TableError as error:
            refused.append(str(error))
            return None

    values = {
        "at": cell(lambda: _time(site, line)),
        "magnitude": cell(lambda: line.decimal("magnitude")),
        "azimuth_degrees": cell(lambda: _azimuth(line)),
        "moon_up": cell(lambda: _flag(line, "moon_up")),
        "snow": cell(lambda: _flag(line, "snow")),
        "milky_way_overhead": cell(lambda: _flag(line, "milky_way")),
        "how": cell(lambda: _how(line)),
        "note": cell(lambda: _note(line)),
    }
    reading = DarknessReading(site=site, **values)
    if len(refused) == before:
        words = _("Line %(line)d: %(refused)s")
        refused += [
            words % {"line": line.number, "refused": one}
            for one in refusals(site, reading, now=now)
        ]
    return reading


def _time(site: Site, line: Line) -> datetime:
    text = line.required("time")
    try:
        if line.text("how").casefold() == TYPED:
            return noon_of(date.fromisoformat(text), site.zone)
        # Without an hour it would be read as midnight.
        read = datetime.fromisoformat(text if ":" in text else "")
    except ValueError:
        words = _("Line %(line)d: “%(value)s” is no time; write it like 2026-03-18 23:40.")
        raise TableError(words % {"line": line.number, "value": text[:40]}) from None
    instant = read.astimezone(UTC) if read.tzinfo else instant_at(read, site.zone)
    if instant is None:
        words = _("Line %(line)d: the clocks were put forward over “%(value)s”; look at it again.")
        raise TableError(words % {"line": line.number, "value": text})
    return instant


def _azimuth(line: Line) -> float | None:
    if not line.text("azimuth"):
        return None
    number = line.decimal("azimuth")
    if not 0 <= number <= 360:
        words = _("Line %(line)d: the azimuth %(value)s is outside 0 to 360°.")
        raise TableError(words % {"line": line.number, "value": in_figures(number)})
    return number % 360


def _flag(line: Line, column: str) -> bool:
    text = line.text(column).casefold()
    if text in YES or text in NO:
        return text in YES
    words = _("Line %(line)d: %(column)s is yes or no, not “%(value)s”.")
    raise TableError(words % {"line": line.number, "column": column, "value": text[:20]})


def _how(line: Line) -> str:
    text = line.text("how").casefold() or DarknessReading.How.METER
    if text in DarknessReading.How.values:
        return text
    words = _("Line %(line)d: how is meter, frame or typed, not “%(value)s”.")
    raise TableError(words % {"line": line.number, "value": text[:20]})


def _note(line: Line) -> str:
    text = line.text("note")
    most = DarknessReading._meta.get_field("note").max_length or 0
    if len(text) <= most:
        return text
    words = _("Line %(line)d: a note has at most %(most)d characters.")
    raise TableError(words % {"line": line.number, "most": most})


def _yes(flag: bool) -> str:
    return "yes" if flag else "no"
