"""Work out what a chart of a ladder shows, before anything is drawn.

Rule    across stand the days, a day's playing at its noon; upwards the tempo, or the step where the climb is not by
        tempo. One mark for all that was played on a day at a tempo. A move stands where it was made: up and down at
        noon, the way back after days away in the morning.
Units   days as the calendar counts them (`date.toordinal`), so that 0.5 is a noon; beats a minute, or places.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise
from operator import attrgetter
from typing import TYPE_CHECKING

from droner.practice.ladder.state import Why

if TYPE_CHECKING:
    from datetime import date

    from droner.cli.ladder_rows import Row
    from droner.practice.logbook.entry import Entry

NOON = 0.5
WEEK_DAYS = 7


class Share(Enum):
    """How much of what was played on a day at a tempo was clean."""

    ALL = "all clean"
    SOME = "some clean"
    NONE = "none clean"


@dataclass(frozen=True, slots=True)
class Point:
    """A place on the chart."""

    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Picture:
    """What is drawn of one ladder. `away`: the first day without playing, and the first with it again."""

    marks: dict[Share, list[Point]]
    way: list[Point]
    falls: list[Point]
    returns: list[Point]
    away: list[tuple[int, int]]
    target: float
    scale: list[tuple[float, str]]


def picture_of(row: Row, first: date, today: date) -> Picture:
    """What there is to draw of a ladder from one day to another."""
    way, falls, returns = _way(row, today)
    begins = first.toordinal()
    return Picture(
        marks=_marks(row, first),
        way=_from(begins, way),
        falls=[point for point in falls if point.x >= begins],
        returns=[point for point in returns if point.x >= begins],
        away=[(max(away, begins), back) for away, back in _away(row, today) if back > begins],
        target=_height(row, row.way.top),
        scale=sorted({(_height(row, place), rung.label) for place, rung in enumerate(row.way.rungs)}),
    )


def _height(row: Row, place: int) -> float:
    """Of a rung: its tempo, or its place."""
    return float(row.way.rungs[place].bpm) if row.way.by_tempo else float(place)


def _played_at(row: Row, entry: Entry) -> float:
    return float(entry.bpm) if row.way.by_tempo else float(row.way.steps.index(entry.step))


def _from(begins: int, way: list[Point]) -> list[Point]:
    """The way from a day on; it begins where the ladder stood then."""
    before = [point for point in way if point.x < begins]
    return [*(Point(begins, point.y) for point in before[-1:]), *way[len(before) :]]


def _marks(row: Row, first: date) -> dict[Share, list[Point]]:
    runs: dict[Point, list[int]] = defaultdict(lambda: [0, 0])
    for entry in row.entries[bisect_left(row.entries, first, key=attrgetter("day")) :]:
        counted = runs[Point(entry.day.toordinal() + NOON, _played_at(row, entry))]
        counted[0] += entry.clean
        counted[1] += entry.total
    found: dict[Share, list[Point]] = {share: [] for share in Share}
    for point, (clean, total) in runs.items():
        found[Share.ALL if clean == total else Share.SOME if clean else Share.NONE].append(point)
    return found


def _way(row: Row, today: date) -> tuple[list[Point], list[Point], list[Point]]:
    """The corners of the way; the middles of its falls, and of its ways back after days away."""
    if row.climb.first is None:
        return [], [], []
    y = _height(row, 0)
    way, falls, returns = [Point(row.climb.first.toordinal(), y)], [], []
    for move in row.climb.moves:
        x = move.day.toordinal() + (0 if move.why is Why.RESTART else NOON)
        new = _height(row, move.to_place)
        middle = Point(x, (y + new) / 2)
        if move.why is Why.DOWN:
            falls.append(middle)
        elif move.why is Why.RESTART:
            returns.append(middle)
        way += [Point(x, y), Point(x, new)]
        y = new
    stands = _height(row, row.stands.place)
    if row.stands.place < row.climb.state.place:
        way += [Point(today.toordinal(), y), Point(today.toordinal(), stands)]
        returns.append(Point(today.toordinal(), (y + stands) / 2))
    return [*way, Point(today.toordinal() + 1, stands)], falls, returns


def _away(row: Row, today: date) -> list[tuple[int, int]]:
    """The days away that led back, and those that were more than a week."""
    back = {move.day.toordinal() for move in row.climb.moves if move.why is Why.RESTART}
    if row.stands.place < row.climb.state.place:
        back.add(today.toordinal())
    days = [entry.day.toordinal() for entry in row.entries]
    if days and days[-1] < today.toordinal():
        days.append(today.toordinal())
    return [(before + 1, later) for before, later in pairwise(days) if later in back or later - before > WEEK_DAYS]
