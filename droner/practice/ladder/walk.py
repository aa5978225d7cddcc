"""Climb a ladder run by run: what leads up, what leads down, what an absence does.

Rule    in a row is counted only as far as the numbers prove it: an entry of c clean runs and m misses does not say in
        which order. Whatever the order, some c / (m + 1) clean ones, rounded up, stand in a row, and so over any
        number of entries that follow one another. So a row of `up_after` is proved as soon as some entries that
        follow one another have c - (up_after - 1) m >= up_after. Likewise for misses.
        A plan keeps its tempo all day, so what a day has at one rung is judged together, whatever its order:
        Up, where a row of clean runs was proved, and enough of the day's runs at this rung were clean. The row may run
        over several days, since a group of keys that climbs by itself may have one run a day; the share is the last
        day's. On ground once held, below the secure place since the last fall, one clean run is enough in place of
        a row. Else down, where a row of misses was proved. At the bottom nothing moves, and the counts go on.
        The day goes on at the next rung, and may move again, as soon as something is played there: as fast as it after
        a rise, slower than the old rung after a fall. Until then runs at the old rung still count there, and may undo
        what seemed decided.
        After a move the counts start anew. Clean and slower than the rung: does not lead up, and ends a row of misses.
        Missed and slower: missed here too. Missed and faster: counts for nothing.
        A failing day has a fall, or no move up and too small a share of clean runs. Such days are counted until the
        highest place at which they happened is passed, not only from one day to the next: a fall, and the days of
        climbing back, stand between two failures at the same tempo.
Units   counts of runs; places from 0.
Source  the shares and counts: `LadderOrder`. In a row, proved: the pigeonhole principle. One run on ground once
        held, rows over several days, a day judged as a whole: our choice.
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
        "_away", "_clean", "_clean_to", "_day", "_down_after", "_failing", "_fell_from", "_height", "_held",
        "_missed", "_most_missed", "_place", "_returned", "_row", "_share", "_stuck", "_top", "_total", "_up_after",
        "_upped", "_was_row", "_way", "moves",
    )  # fmt: skip

    def __init__(self, way: Way, order: LadderOrder) -> None:
        self._way = way
        self._up_after, self._down_after = way.up_after, order.down_after
        self._share = order.clean_share.as_integer_ratio()
        self._day: date | None = None
        self._place = self._held = self._clean_to = 0
        self._height, self._top = way.heights[0], way.top
        self._row = self._missed = self._clean = self._total = self._most_missed = 0
        self._was_row = False
        self._failing = self._stuck = 0
        self._away = self._returned = 0
        self._upped, self._fell_from = False, NO_FALL
        self.moves: list[Move] = []

    def take(self, run: Played, reach: Reach) -> None:
        """One entry more, of the same day as the last one or a later day. A lifetime passes here: no call too many."""
        if run.day != self._day:
            self._begin(run.day)
        elif reach.clean != self._height and self._goes_on_with(reach):
            self._settle()
        height, clean = self._height, run.clean
        missed = run.total - clean if reach.missed <= height else 0
        if missed:
            self._missed = _row(self._missed, missed, clean, self._down_after)
            self._most_missed = max(self._most_missed, self._missed)
        elif clean:
            self._missed = 0
        if reach.clean < height:
            clean = 0
        self._clean += clean
        self._total += clean + missed
        if clean or missed:
            row = self._row = _row(self._row, clean, missed, self._up_after)
            if row >= self._up_after:
                self._was_row = True
                if missed:
                    self._row = 0  # a row there was, but nobody knows where the misses after it stand

    @property
    def place(self) -> int:
        """Where it stands now."""
        return self._leads_to(self._decided())

    def _decided(self) -> Why | None:
        """What the day's runs at this rung have led to so far."""
        if not self._total:
            return None
        is_row = self._was_row or (self._clean > 0 and self._place < self._held)
        if is_row and self._is_share_clean():
            return Why.UP
        return Why.DOWN if self._most_missed >= self._down_after else None

    def _leads_to(self, why: Why | None) -> int:
        if why is Why.UP:
            return min(self._place + 1, self._top)
        return self._place if why is None else self._way.falls[self._place]

    def _goes_on_with(self, reach: Reach) -> bool:
        """Whether a run is one of the rung that the day's others have led to."""
        old, new = self._height, self._way.heights[self.place]
        height = reach.clean if reach.clean >= 0 else reach.missed
        return height >= new if new > old else height < old if new < old else False

    def _settle(self) -> None:
        """What was decided holds."""
        why = self._decided()
        if why is Why.UP:
            self._rise()
        elif why is Why.DOWN:
            self._fall()

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
            self._move(fall, Why.DOWN, self._most_missed)

    def _move(self, place: int, why: Why, count: int) -> None:
        assert self._day is not None  # noqa: S101 - a day has begun before anything moves
        self.moves.append(Move(self._day, self._place, place, why, count))
        self._place, self._height = place, self._way.heights[place]
        self._row = self._missed = self._clean = self._total = self._most_missed = 0
        self._was_row = False

    def _begin(self, day: date) -> None:
        """A new day: the last one is over, and there may have been days between."""
        self.close()
        away = days_away(self._day, day)
        self._day, self._clean, self._total = day, 0, 0
        self._most_missed, self._was_row = 0, False
        self._upped, self._fell_from = False, NO_FALL
        if away <= ONE_NIGHT:
            return
        place = self._way.resumed(self._place, self._clean_to, self._returned, away)
        if place < self._place:
            self._away = away
            self._move(place, Why.RESTART, away)

    def close(self) -> None:
        """The day is over: what was decided holds; it failed, or it did not."""
        is_clean = self._is_share_clean()
        self._settle()
        if self._fell_from != NO_FALL or not (self._upped or is_clean):
            self._failing += 1
            self._stuck = max(self._stuck, self._fell_from, self._place)

    @property
    def state(self) -> State:
        """How it stands, once the day is over."""
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
