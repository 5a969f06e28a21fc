"""Spans of time and their algebra: union, intersection, difference, hours. No astronomy."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from sky.errors import SkyError

Spans = tuple["Span", ...]


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """A half-open stretch of time [start, end) of aware datetimes, kept in UTC.

    Errors: `naive_datetime` for a datetime without a zone, `span_reversed` where end < start.
    """

    start: datetime
    end: datetime

    def __post_init__(self) -> None:
        object.__setattr__(self, "start", as_utc(self.start))
        object.__setattr__(self, "end", as_utc(self.end))
        if self.end < self.start:
            raise SkyError("span_reversed", start=self.start, end=self.end)

    @classmethod
    def from_seconds(cls, start: float, end: float) -> Span:
        """Make a span of two Unix times in seconds."""
        return cls(datetime.fromtimestamp(start, UTC), datetime.fromtimestamp(end, UTC))

    @property
    def seconds(self) -> float:
        return (self.end - self.start).total_seconds()

    @property
    def hours(self) -> float:
        return self.seconds / 3600

    def __contains__(self, instant: datetime) -> bool:
        return self.start <= instant < self.end


def as_utc(instant: datetime) -> datetime:
    """Give the instant in UTC; refuse a naive datetime (`naive_datetime`)."""
    if instant.tzinfo is None:
        raise SkyError("naive_datetime", instant=instant)
    return instant.astimezone(UTC)


def union(spans: Iterable[Span]) -> Spans:
    """Join spans that touch or overlap; the result is sorted, disjoint and without empty spans."""
    joined: list[Span] = []
    for span in sorted(spans):
        if span.start == span.end:
            continue
        if joined and span.start <= joined[-1].end:
            joined[-1] = Span(joined[-1].start, max(joined[-1].end, span.end))
        else:
            joined.append(span)
    return tuple(joined)


def intersect(first: Sequence[Span], second: Sequence[Span]) -> Spans:
    """Give what lies in both of two sorted, disjoint sequences."""
    common: list[Span] = []
    i = j = 0
    while i < len(first) and j < len(second):
        start, end = max(first[i].start, second[j].start), min(first[i].end, second[j].end)
        if start < end:
            common.append(Span(start, end))
        if first[i].end <= second[j].end:
            i += 1
        else:
            j += 1
    return tuple(common)


def subtract(whole: Sequence[Span], away: Sequence[Span]) -> Spans:
    """Give what lies in `whole` and not in `away`, both sorted and disjoint."""
    left: list[Span] = []
    for span in whole:
        start = span.start
        for gap in away:
            if gap.end <= start or gap.start >= span.end:
                continue
            if start < gap.start:
                left.append(Span(start, gap.start))
            start = max(start, gap.end)
        if start < span.end:
            left.append(Span(start, span.end))
    return tuple(left)


def hours(spans: Iterable[Span]) -> float:
    """Sum the lengths of disjoint spans, in decimal hours."""
    return sum(span.seconds for span in spans) / 3600
