"""Work out, once for each ladder, what the climbing rules compare: heights, falls, and where an absence leads.

Rule    a run is as high as its tempo, or its step where the climb is not by tempo. Clean runs count at the rung and
        below it, misses at the rung and above: who can play faster can play this, who misses slower cannot.
        Runs of another ladder's step say nothing here.
        A fall of so many rungs is one of tempos: in a climb that goes back by itself it leads to the last place
        before it that is so many tempos slower.
        After days away a drill starts again no faster than so many per cent of the secure tempo, which is the
        fastest that was passed since the last fall. The longest absence that has a row counts, and none asks for a
        faster tempo than a shorter one. Three things lower no rung:
        - One night. It opens the next day instead: the first run of the drill is slower. Tracks are made in the
          morning, at one tempo; a whole day at 90 per cent would keep the player below the secure tempo for ever.
        - An absence no longer than one that the player came back from clean, for the same reason: who plays each
          Monday and Thursday would start again each time. It opens the day at that absence's share.
        - A tempo that is slow enough already.
        Steps with names have no per cent: the row after one night leads nowhere, the next one place back, the next two.
Units   per cent; whole days.
Source  90 per cent the next day, 80 after three days, 70 after ten: common practice, no source. What lowers no rung:
        our choice.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import accumulate
from typing import TYPE_CHECKING

from droner.practice.ladder.climb_table import BY_TEMPO, COLD
from droner.practice.ladder.rung import KEPT_ORDERS, WHOLE, Rung, rungs

if TYPE_CHECKING:
    from datetime import date

    from droner.practice.session import LadderOrder

ONE_NIGHT = 1
NEVER_CLEAN = -1
NEVER_MISSED = 2**31


@dataclass(frozen=True, slots=True)
class Reach:
    """Up to which height a run counts where it was clean, and from which height on where it was missed."""

    clean: int
    missed: int


@dataclass(frozen=True, slots=True)
class Way:
    """A ladder ready to be climbed. `heights`, `falls` and `fastest` by place; the last is the fastest up to there."""

    rungs: tuple[Rung, ...]
    by_tempo: bool
    up_after: int
    heights: tuple[int, ...]
    falls: tuple[int, ...]
    fastest: tuple[Fraction, ...]
    tempos: tuple[Fraction, ...]
    steps: tuple[str, ...]
    restart: tuple[tuple[int, Fraction], ...]

    @property
    def top(self) -> int:
        """The last place."""
        return len(self.rungs) - 1

    def reach(self, bpm: Fraction, step: str) -> Reach | None:
        """What a run at a tempo or step counts for; None for nothing."""
        if self.by_tempo:
            height = _height(self.tempos, bpm)
            return None if step else Reach(height, height)
        if step not in self.steps:
            return None
        height, target = 2 * self.steps.index(step) + 1, self.tempos[0]
        return Reach(height if bpm >= target else NEVER_CLEAN, height if bpm <= target else NEVER_MISSED)

    def resumed(self, place: int, clean_to: int, returned: int, days: int) -> int:
        """The place to start again from after so many days away."""
        row = self._row(days)
        if row is None or self.restart[row][0] <= ONE_NIGHT or days <= returned or clean_to == 0:
            return place
        return min(place, self._slow_enough(row, clean_to))

    def opening(self, place: int, clean_to: int, days: int) -> Fraction | None:
        """The tempo of the day's first run; None where it is no slower than the others."""
        row = self._row(days)
        if row is None or self.restart[row][1] >= WHOLE or place == 0 or clean_to == 0 or not self.by_tempo:
            return None
        slow = self.secure(clean_to).bpm * self.restart[row][1] / WHOLE
        return max(slow, self.tempos[0]) if slow < self.rungs[place].bpm else None

    def secure(self, clean_to: int) -> Rung:
        """The secure rung; in a climb that goes back by itself, the fastest of those passed."""
        return Rung(self.fastest[clean_to - 1], self.rungs[clean_to - 1].step)

    def share(self, days: int) -> Fraction:
        """At so many per cent of the secure tempo it starts again after so many days."""
        row = self._row(days)
        return WHOLE if row is None else self.restart[row][1]

    def _row(self, days: int) -> int | None:
        """The longest absence that has a row and is over; None for none."""
        rows = [row for row, (least, _) in enumerate(self.restart) if least <= days]
        return max(rows, default=None)

    def _slow_enough(self, row: int, clean_to: int) -> int:
        """The highest place that is slow enough after an absence; the first where none is."""
        if not self.by_tempo:
            return max(clean_to - sum(least > ONE_NIGHT for least, _ in self.restart[: row + 1]), 0)
        slow = self.secure(clean_to).bpm * self.restart[row][1] / WHOLE
        return max((place for place, rung in enumerate(self.rungs) if rung.bpm <= slow), default=0)


@lru_cache(maxsize=KEPT_ORDERS)
def way_of(order: LadderOrder) -> Way:
    """The ladder of an order, worked out. ValueError for a ladder that does not climb."""
    climbed = rungs(order)
    steps = tuple(rung.step for rung in climbed)
    tempos = tuple(sorted({rung.bpm for rung in climbed}))
    by_tempo = order.climb in BY_TEMPO or order.climb == COLD
    heights = tuple(_height(tempos, rung.bpm) if by_tempo else 2 * place + 1 for place, rung in enumerate(climbed))
    return Way(
        rungs=climbed,
        by_tempo=by_tempo,
        up_after=1 if order.climb == COLD else order.up_after,
        heights=heights,
        falls=tuple(_fall(heights, place, order.down_by) for place in range(len(climbed))),
        fastest=tuple(accumulate((rung.bpm for rung in climbed), max)),
        tempos=tempos,
        steps=steps,
        restart=_falling(order.restart),
    )


def days_away(last: date | None, today: date) -> int:
    """Days since something was played; below 0 for a day before it, as across the date line, which is no absence."""
    return (today - last).days if last else 0


def _height(tempos: tuple[Fraction, ...], bpm: Fraction) -> int:
    """Odd at a tempo of the ladder, even between two: twice the tempos below it, and one if it is a tempo itself."""
    return 2 * sum(tempo < bpm for tempo in tempos) + (bpm in tempos)


def _fall(heights: tuple[int, ...], place: int, down_by: int) -> int:
    low = heights[place] - 2 * down_by
    return max((before for before in range(place + 1) if heights[before] <= low), default=0)


def _falling(restart: tuple[tuple[int, Fraction], ...]) -> tuple[tuple[int, Fraction], ...]:
    """The rows by length of absence, none of them faster than one before it."""
    rows = sorted(restart)
    return tuple(zip((days for days, _ in rows), accumulate((share for _, share in rows), min), strict=True))
