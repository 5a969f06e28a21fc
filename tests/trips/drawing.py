"""Nights that the tests of charts draw: regular ones, each by a few figures."""

from __future__ import annotations

from datetime import date, timedelta
from html.parser import HTMLParser
from typing import Any

from trips.charts.bands import NightBands, NightLine
from trips.charts.picture import Picture
from trips.charts.season import RunMark, SeasonChart, season_chart

FIRST = date(2027, 3, 1)


def made_night(day: date = FIRST, **fields: Any) -> NightBands:
    """Sunset 19:00, dark 20:30 to 05:00, no Moon, a block of four hours from 20:30."""
    values: dict[str, Any] = {
        "date": day,
        "civil": ((420.0, 1140.0),),
        "nautical": ((450.0, 1110.0),),
        "astronomical": ((480.0, 1080.0),),
        "dark": ((510.0, 1020.0),),
        "moon_up": (),
        "veil": (),
        "lit": 0.0,
        "waxing": True,
        "usable": (510.0, 750.0),
        "out": ((510.0, 840.0),),
        "offsets": (60, 60),
    }
    return NightBands(**values | fields)


def made_nights(count: int, first: date = FIRST, **fields: Any) -> list[NightBands]:
    return [made_night(first + timedelta(days=day), **fields) for day in range(count)]


def made_line(bands: NightBands, **fields: Any) -> NightLine:
    values: dict[str, Any] = {
        "bands": bands,
        "dark_hours": 8.5,
        "moonless_hours": 8.5,
        "usable_dark_hours": 0.0,
        "usable_hours": 4.0,
        "is_candidate": True,
        "run": None,
        "against": "",
        "events": (),
        "address": f"/sites/7/nights/{bands.date.isoformat()}/",
    }
    return NightLine(**values | fields)


YEAR = made_nights(365, date(2027, 1, 1))
JULY = RunMark(1, date(2027, 7, 2), date(2027, 7, 4), "2–4 Jul", "/seasons/1/?run=1")
AUGUST = RunMark(2, date(2027, 7, 30), date(2027, 8, 1), "30 Jul–1 Aug", "/seasons/1/?run=2")


def chart(nights: list[NightBands], **fields: object) -> SeasonChart:
    values = {"title": "Every night of 2027", "description": "Dark from 20:30 to 05:00."}
    return season_chart(nights, **values | fields)  # type: ignore[arg-type]


def ways(found: SeasonChart) -> tuple[Picture, Picture]:
    across, down = found.pictures
    return across, down


def words(picture: Picture) -> list[str]:
    return [text.words for texts in picture.texts.values() for text in texts]


class Elements(HTMLParser):
    """The elements of a page: tag and attributes, in order, and that they are closed in order."""

    VOID = frozenset({"meta", "link", "input", "br", "hr", "img"})

    def __init__(self, html: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str]]] = []
        self.words: list[str] = []
        self._open: list[str] = []
        self.feed(html)
        assert not self._open, self._open

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, {name: value or "" for name, value in attrs}))
        if tag not in self.VOID:
            self._open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        assert self._open
        assert self._open.pop() == tag

    def handle_data(self, data: str) -> None:
        if data.strip():
            self.words.append(data.strip())

    def of(self, tag: str, **attributes: str) -> list[dict[str, str]]:
        """Give the attributes of the elements of a tag that have these, classes among others."""
        return [
            found
            for name, found in self.found
            if name == tag
            and all(
                value in found.get(key.rstrip("_"), "").split()
                if key == "class_"
                else found.get(key.rstrip("_")) == value
                for key, value in attributes.items()
            )
        ]
