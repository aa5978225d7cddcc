"""Climb a ladder run by run: what leads up, what leads down, what an absence does.

Rule    in a row is counted only as far as the numbers prove it: an entry of c clean runs and m misses does not say in
        which order. Whatever the order, some c / (m + 1) clean ones, rounded up, stand in a row, and so over any
        number of entries that follow one another. So a row of `up_after` is proved as soon as some entries that
        follow one another have c - (up_after - 1) m >= up_after. Likewise for misses.
        Up: a proved row of clean runs, and enough of the day's runs at this rung clean. The row may run over several
        days, since a group of keys that climbs by itself may have one run a day; the share is the last day's. On
        ground once held, below the last clean place since the last fall, one clean run is enough in place of a row.
        Down: a proved row of misses. At the bottom nothing moves, and the counts go on.
        After a move the counts start anew. Clean and slower than the rung: does not lead up, and ends a row of misses.
        Missed and faster: counts for nothing.
        A failing day has a fall, or no move up and too small a share of clean runs. Such days are counted until the
        highest place at which they happened is passed, not only from one day to the next: a fall, and the days of
        climbing back, stand between two failures at the same tempo.
Units   counts of runs; places from 0.
Source  the shares and counts: `LadderOrder`. In a row, proved: the pigeonhole principle. One run on ground once
        held, rows over several days: our choice.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.practice.ladder.state import Move, State, Why
from droner.practice.ladder.way import ONE_NIGHT, days_away

if TYPE_CHECKING:
    from datetime import date

    from droner.practice.ladder.state import Played
    from droner.practice.ladder.way import Reach, Way
    from droner.practice.session import LadderOrder

NO_FALL = -1


class Walk:
    """One player on one ladder, in the middle of climbing. Changes with each run; `state` is what stays."""

    __slots__ = (
        "_away",
        "_clean",
        "_clean_to",
        "_day",
        "_down_after",
        "_failing",
        "_fell_from",
        "_height",
        "_held",
        "_missed",
        "_place",
        "_returned",
        "_row",
        "_share",
        "_stuck",
        "_top",
        "_total",
        "_up_after",
        "_upped",
        "_way",
        "moves",
    )  # fmt: skip

    def __init__(self, way: Way, order: LadderOrder) -> None:
        self._way = way
        self._up_after, self._down_after = way.up_after, order.down_after
        self._share = order.clean_share.as_integer_ratio()
        self._day: date | None = None
        self._place = self._held = self._clean_to = 0
        self._height, self._top = way.heights[0], way.top
        self._row = self._missed = self._clean = self._total = 0
        self._failing = self._stuck = 0
        self._away = self._returned = 0
        self._upped, self._fell_from = False, NO_FALL
        self.moves: list[Move] = []

    def take(self, run: Played, reach: Reach) -> None:
        """One entry more, of the same day as the last one or a later day. A lifetime passes here: no call too many."""
        if run.day != self._day:
            self._begin(run.day)
        height, clean = self._height, run.clean
        missed = run.total - clean if reach.missed <= height else 0
        if missed or self._missed:
            self._missed = _row(self._missed, missed, clean, self._down_after)
        if reach.clean < height:
            if not missed:
                return
            clean = 0
        self._clean += clean
        self._total += clean + missed
        row = self._row = _row(self._row, clean, missed, self._up_after)
        if self._missed >= self._down_after:
            self._fall()
        elif (clean if self._place < self._held else row >= self._up_after) and self._is_share_clean():
            self._rise()
        elif missed and row >= self._up_after:
            self._row = 0  # a row there was, but nobody knows where the misses after it stand

    def _is_share_clean(self) -> bool:
        per_cent, of = self._share
        return 100 * of * self._clean >= per_cent * self._total

    def _rise(self) -> None:
        place, held = self._place, self._held
        count = 1 if place < held else self._up_after
        self._upped = True
        if place >= self._clean_to:
            self._clean_to = place + 1
        if self._away:
            self._away, self._returned = 0, max(self._away, self._returned)
        if place >= self._stuck:
            self._failing = self._stuck = 0
        if place >= self._fell_from:
            self._fell_from = NO_FALL
        if place < self._top:
            if place >= held:
                self._held = place + 1
            self._move(place + 1, Why.UP, count)
        elif held == place:
            self._held = place + 1
            self._move(place, Why.REACHED, count)

    def _fall(self) -> None:
        place, fall = self._place, self._way.falls[self._place]
        if fall < place:
            self._fell_from = max(self._fell_from, place)
            self._held, self._away = min(self._held, fall), 0
            self._clean_to = min(self._clean_to, place)
            self._move(fall, Why.DOWN, self._missed)

    def _move(self, place: int, why: Why, count: int) -> None:
        assert self._day is not None  # noqa: S101 - a day has begun before anything moves
        self.moves.append(Move(self._day, self._place, place, why, count))
        self._place, self._height = place, self._way.heights[place]
        self._row = self._missed = self._clean = self._total = 0

    def _begin(self, day: date) -> None:
        """A new day: the last one is over, and there may have been days between."""
        self.close()
        away = days_away(self._day, day)
        self._day, self._clean, self._total = day, 0, 0
        self._upped, self._fell_from = False, NO_FALL
        if away <= ONE_NIGHT:
            return
        place = self._way.resumed(self._place, self._clean_to, self._returned, away)
        if place < self._place:
            self._away = away
            self._move(place, Why.RESTART, away)

    def close(self) -> None:
        """The day is over: it failed, or it did not."""
        if self._fell_from != NO_FALL or not (self._upped or self._is_share_clean()):
            self._failing += 1
            self._stuck = max(self._stuck, self._fell_from, self._place)

    @property
    def state(self) -> State:
        """How it stands now."""
        return State(
            self._place,
            self._held,
            self._clean_to,
            self._day,
            self._row,
            self._missed,
            self._clean,
            self._total,
            self._failing,
            self._stuck,
            self._returned,
        )


def _row(row: int, more: int, others: int, asked: int) -> int:
    """How many stand in a row at least, at the end or anywhere since the row began, after an entry more.

    A row is proved where this reaches `asked`: what each of the others parts is shorter by one at most.
    """
    parted = asked - 1
    longer = (row if row < parted else parted) + more - parted * others  # noqa: FURB136 - min is slow, this is not
    return longer if longer > 0 else 0  # noqa: FURB136 - the same
