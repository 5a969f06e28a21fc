"""Alignments judged by a season: whether people are out then, and on evenings that are offered."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from trips.almanac.alignments import Alignment
from trips.models import Season, Site
from trips.planning.closures import why_closed
from trips.planning.hours_out import Evening, hours_out
from trips.planning.nights import Wishes
from trips.planning.offered import why_not

OUTSIDE_HOURS = "outside_hours"
A_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class JudgedAlignment:
    """`why_not`: OUTSIDE_HOURS or a code of `offered.why_not`; None where people can be there.

    `row` holds the first and the last of the nights in a row around it on which they can; None
    where they cannot on this one.
    """

    alignment: Alignment
    why_not: str | None
    row: tuple[date, date] | None

    @property
    def nights_in_row(self) -> int:
        return (self.row[1] - self.row[0]).days + 1 if self.row else 0


def judge_alignments(
    found: Sequence[Alignment], site: Site, season: Season | None
) -> list[JudgedAlignment]:
    """Judge alignments in order; without a season only what closes the site counts."""
    reasons = [_reason(one, site, season) for one in found]
    rows = rows_of(one.night for one, reason in zip(found, reasons, strict=True) if reason is None)
    return [
        JudgedAlignment(one, reason, None if reason else rows[one.night])
        for one, reason in zip(found, reasons, strict=True)
    ]


def rows_of(nights: Iterable[date]) -> Mapping[date, tuple[date, date]]:
    """Give the first and the last of the nights in a row around each of them."""
    rows: dict[date, tuple[date, date]] = {}
    stretches: list[list[date]] = []
    for night in sorted(set(nights)):
        if stretches and stretches[-1][-1] + A_DAY == night:
            stretches[-1].append(night)
        else:
            stretches.append([night])
    for stretch in stretches:
        rows |= dict.fromkeys(stretch, (stretch[0], stretch[-1]))
    return rows


def _reason(one: Alignment, site: Site, season: Season | None) -> str | None:
    """What nobody can change comes first."""
    if season is None:
        return why_closed(site, one.night)
    wishes = Wishes.of(season)
    reason = why_not(site, wishes, one.night)
    if reason:
        return reason
    start, end = hours_out(Evening(one.night, one.civil_dusk), wishes, site.zone)
    return None if start <= one.at.timestamp() <= end else OUTSIDE_HOURS
