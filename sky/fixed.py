"""When places among the stars stand clear of a skyline: solved once in hour angle, laid over days.

A star's path over the horizon is the same each day but for seconds of arc. Its edges are found for
one declination, followed through the year by the apparent place of every fifth day, and turned
into instants by sidereal time. Slow edges are then closed in on one by one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from sky.altitude import season_nodes
from sky.apparent import places_of_date, unit_vectors
from sky.clearing import (
    Clearance,
    add_corners,
    find_edges,
    grazing_rows,
    near_line,
    sample,
)
from sky.constants import DEGREE, SECONDS_PER_DAY
from sky.directions import Directions, refraction_degrees
from sky.ephemeris import (
    frames_between,
    sidereal_at,
    tt_from_utc,
    tt_of_sidereal,
    utc_from_tt,
)
from sky.place import Place
from sky.skyline import Skyline
from sky.targets.target import FixedPoint

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

TURN = 2 * np.pi
EPOCH_SECONDS = 5 * SECONDS_PER_DAY
# A degree of hour angle, in which an altitude moves a degree at most, but for the air.
GRID_STEPS, MOTION_DEGREES = 361, 1.5
# An apparent declination strays less than this from that of mid-season, three years long.
STRAY_DEGREES = 0.02
# Of hour angle, in radians: a thousandth of a second.
TOLERANCE = 7e-8
# What an edge followed from epoch to epoch may miss: 0.1″ of altitude.
MISSED_DEGREES = 2.8e-5
SLOPE_STEP = 1e-4
# In degrees of clearance for a radian of hour angle: a slow edge moves 5° an hour or less.
SLOW = 20.0
MOST_SLOW_SECONDS = 300.0
# What an edge may stray from the straight line between epochs: 0.2″ of altitude.
BENT_DEGREES = 5.6e-5


@dataclass(frozen=True, slots=True)
class FixedSky:
    """Places among the stars as a site sees them over a season.

    `epochs` (epoch,) TT since J2000, five days apart; `right_ascension` (point, epoch) in radians,
    unwrapped, and `declination` (point, epoch), apparent, of date.
    """

    place: Place
    first: date
    last: date
    start: float
    end: float
    epochs: Floats
    right_ascension: Floats
    declination: Floats

    @classmethod
    def over(
        cls, points: Sequence[FixedPoint], place: Place, dates: tuple[date, date],
        start: float, end: float,
    ) -> FixedSky:  # fmt: skip
        """Follow points through the nights named by two dates, from `start` to `end` (Unix)."""
        edges = tt_from_utc(np.array([start, end]))
        count = int((edges[1] - edges[0]) // EPOCH_SECONDS) + 2
        epochs = np.linspace(edges[0] - SECONDS_PER_DAY, edges[1] + SECONDS_PER_DAY, count)
        of_date = places_of_date(unit_vectors(points), frames_between(*dates), epochs)
        x, y, z = np.moveaxis(of_date, 2, 0)
        right_ascension = np.unwrap(np.arctan2(y, x), axis=0).T
        return cls(place, *dates, start, end, epochs, right_ascension, np.arcsin(z).T)

    def only(self, points: Ints) -> FixedSky:
        """Give some of the points alone."""
        return replace(
            self,
            right_ascension=self.right_ascension[points],
            declination=self.declination[points],
        )

    def directions(self, point: int | Ints, unix: Floats) -> Directions:
        """Give where points stand at instants."""
        tt = tt_from_utc(unix)
        at, share = self._epoch(tt)
        right_ascension = _mixed(self.right_ascension, point, at, share)
        sidereal = sidereal_at(season_nodes(self.first, self.last), tt)
        hour_angle = sidereal + self.place.longitude * DEGREE - right_ascension
        return _directions(self.place, hour_angle, _mixed(self.declination, point, at, share))

    def instants(self, angles: Floats) -> Floats:
        """Give when sidereal angles come round: (angle, day) Unix seconds, days ascending.

        `angles` (angle, epoch): local sidereal time in radians, followed through the epochs. From
        a day before the season to a day after it; a last one beyond that is told too early, at the
        end of the tables.
        """
        nodes = season_nodes(self.first, self.last)
        greenwich = angles - self.place.longitude * DEGREE
        begin, end = sidereal_at(nodes, self.epochs[[0, -1]])
        turns = np.arange(int((end - begin) // TURN) + 1) * TURN
        first = greenwich[:, 0] + np.ceil((begin - greenwich[:, 0]) / TURN) * TURN
        # The epoch's share need not be better than an hour: it moves the angle by a millisecond.
        share = (first[:, None] + turns - begin) / (end - begin) * (len(self.epochs) - 1)
        at = np.minimum(share.astype(np.intp), len(self.epochs) - 2)
        row = np.arange(len(angles))[:, None]
        drift = greenwich - greenwich[:, :1]
        drifted = drift[row, at] + (drift[row, at + 1] - drift[row, at]) * (share - at)
        return utc_from_tt(tt_of_sidereal(nodes, first[:, None] + turns + drifted))

    def transits(self) -> Floats:
        """Give the upper transits of every point: (point, day) Unix seconds."""
        return self.instants(self.right_ascension)

    def _epoch(self, tt: Floats) -> tuple[Ints, Floats]:
        step = self.epochs[1] - self.epochs[0]
        at = np.clip(((tt - self.epochs[0]) / step).astype(np.intp), 0, len(self.epochs) - 2)
        return at, (tt - self.epochs[at]) / step


@dataclass(frozen=True, slots=True)
class FixedSpans:
    """When each of some points is clear: `spans` (n, 2) Unix seconds of row `row` (n,), sorted.

    `grazing` names the points whose path touches the skyline so lightly that it must be followed
    day by day.
    """

    row: Ints
    spans: Floats
    grazing: Ints


def fixed_spans(sky: FixedSky, line: Skyline) -> FixedSpans:
    """Find when the points stand clear of a line that is already raised to their least altitude."""
    middle = sky.declination[:, sky.declination.shape[1] // 2]
    clearance = _clearance(sky.place, line, middle)
    count = len(middle)
    row = np.repeat(np.arange(count), GRID_STEPS)
    grid = np.tile(np.linspace(-np.pi, np.pi, GRID_STEPS), count)
    samples = add_corners(clearance, sample(clearance, grid, row), line.azimuths[1:-1])
    edge_row, edge = find_edges(clearance, samples, TOLERANCE)
    followed, slope, missed = _followed(sky, line, edge_row, edge)
    grazing = np.union1d(
        grazing_rows(clearance, samples, STRAY_DEGREES), edge_row[missed > MISSED_DEGREES]
    )
    begins_clear = samples.clearance[np.searchsorted(samples.row, np.arange(count))] > 0
    throughout = np.setdiff1d(np.flatnonzero(begins_clear), edge_row)
    instants = sky.instants(followed + sky.right_ascension[edge_row])
    unsure = np.flatnonzero((np.abs(slope) < SLOW) | _bent(followed, slope))
    instants[unsure], loose = _closer(sky, line, edge_row[unsure], instants[unsure])
    grazing = np.union1d(grazing, edge_row[unsure][loose])
    row, spans = _paired(edge_row, slope > 0, instants)
    row = np.concatenate((row, throughout))
    spans = np.concatenate((spans, np.full((len(throughout), 2), (sky.start, sky.end))))
    spans = np.clip(spans, sky.start, sky.end)
    kept = np.flatnonzero(spans[:, 1] > spans[:, 0])
    kept = kept[np.argsort(row[kept], kind="stable")]
    return FixedSpans(row[kept], spans[kept], grazing)


def _clearance(place: Place, line: Skyline, declination: Floats) -> Clearance:
    def clearance(row: Ints, hour_angle: Floats) -> tuple[Floats, Floats]:
        seen = _directions(place, hour_angle, declination[row])
        height, azimuth = seen.altitude_degrees, seen.azimuth_degrees
        return height - line.at(azimuth), near_line(height, azimuth, line, MOTION_DEGREES)

    return clearance


def _followed(
    sky: FixedSky, line: Skyline, row: Ints, edge: Floats
) -> tuple[Floats, Floats, Floats]:
    """Follow each edge (edge,) of its point (row) through the epochs: two steps of Newton's.

    Gives hour angles (edge, epoch), the slope of the clearance at each edge, and the largest
    clearance that is left there, in degrees.
    """
    epochs = len(sky.epochs)
    number = np.repeat(np.arange(len(row)), epochs)
    declination = sky.declination[row].ravel()
    clearance = _clearance(sky.place, line, declination)
    every = np.arange(len(number))
    middle = _clearance(sky.place, line, sky.declination[:, epochs // 2])
    ahead, behind = (middle(row, edge + step)[0] for step in (SLOPE_STEP, -SLOPE_STEP))
    slope = (ahead - behind) / (2 * SLOPE_STEP)
    hour_angle, steep = edge[number], np.where(slope == 0, np.inf, slope)[number]
    for _ in range(2):
        hour_angle = hour_angle - clearance(every, hour_angle)[0] / steep
    left = np.abs(clearance(every, hour_angle)[0]).reshape(len(row), epochs)
    return hour_angle.reshape(len(row), epochs), slope, left.max(axis=1, initial=0.0)


def _bent(followed: Floats, slope: Floats) -> NDArray[np.bool_]:
    """Tell which edges (edge, epoch) bend so much that between epochs they are not straight."""
    bend = np.abs(np.diff(followed, 2)).max(axis=1, initial=0.0)
    is_bent: NDArray[np.bool_] = bend / 8 * np.abs(slope) > BENT_DEGREES
    return is_bent


def _closer(
    sky: FixedSky, line: Skyline, row: Ints, instants: Floats
) -> tuple[Floats, NDArray[np.bool_]]:
    """Step to where unsure edges (edge, day) really are; tell which of them are not found so."""
    if not len(row):
        return instants, np.zeros(0, np.bool_)
    of = np.repeat(row, instants.shape[1])

    def clearance(unix: Floats) -> Floats:
        seen = sky.directions(of, unix)
        return seen.altitude_degrees - line.at(seen.azimuth_degrees)

    at = instants.ravel()
    for _ in range(2):
        here, later = clearance(at), clearance(at + 1.0)
        with np.errstate(divide="ignore", invalid="ignore"):
            step = np.nan_to_num(here / (later - here), posinf=0.0, neginf=0.0)
        at = at - np.clip(step, -MOST_SLOW_SECONDS, MOST_SLOW_SECONDS)
    # Far outside the season the tables may have ended.
    counts = (at > sky.start - MOST_SLOW_SECONDS) & (at < sky.end + MOST_SLOW_SECONDS)
    left = np.where(counts, np.abs(clearance(at)), 0.0).reshape(instants.shape)
    return at.reshape(instants.shape), left.max(axis=1) > MISSED_DEGREES


def _paired(row: Ints, is_rising: NDArray[np.bool_], instants: Floats) -> tuple[Ints, Floats]:
    """Pair each rise with the set that follows it."""
    days = instants.shape[1] if instants.size else 0
    at, rises, of = instants.ravel(), np.repeat(is_rising, days), np.repeat(row, days)
    order = np.lexsort((at, of))
    at, rises, of = at[order], rises[order], of[order]
    pair = np.flatnonzero(rises[:-1] & ~rises[1:] & (of[:-1] == of[1:]))
    return of[pair], np.stack((at[pair], at[pair + 1]), axis=1)


def _mixed(values: Floats, point: int | Ints, at: Ints, share: Floats) -> Floats:
    result: Floats = values[point, at] * (1 - share) + values[point, at + 1] * share
    return result


def _directions(place: Place, hour_angle: Floats, declination: Floats) -> Directions:
    latitude = place.latitude * DEGREE
    cos_h, cos_d, sin_d = np.cos(hour_angle), np.cos(declination), np.sin(declination)
    up = np.sin(latitude) * sin_d + np.cos(latitude) * cos_d * cos_h
    north = np.cos(latitude) * sin_d - np.sin(latitude) * cos_d * cos_h
    east = -cos_d * np.sin(hour_angle)
    height = np.arctan2(up, np.hypot(north, east)) / DEGREE
    azimuth = np.arctan2(east, north) / DEGREE % 360.0
    return Directions(height + refraction_degrees(height, place.elevation_m), height, azimuth)
