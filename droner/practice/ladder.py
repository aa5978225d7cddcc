"""Find the tempo that a drill stands at: a rung between slow and target, folded from what was played.

Rule    the rungs are the traditional metronome numbers from slow to target, and the target itself. Slower than
        the numbers go, they are halves of them; faster, doubles. A slow end between two numbers starts on the
        first number above it; nothing is ever slower or faster than the player asked.
        The rung is never stored: same history, same rung. It goes up by one after three clean runs in a row on
        one day with at least 70 per cent of that day's runs at the rung clean. Nothing brings it down: days off and
        bad days leave it where it is.
        One entry with a miss in it breaks the row, since it does not say which of its runs was missed. Entries
        at another tempo than the rung do not count.
Units   beats a minute.
Source  metronome numbers: `theory.metronome_table`. Three in a row, 70 per cent: common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import reduce
from typing import TYPE_CHECKING

from droner.theory.metronome_table import TRADITIONAL_BPM

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import date

    from droner.practice.session import LadderOrder

IN_A_ROW = 3
CLEAN_SHARE = Fraction(7, 10)
NUMBERS = tuple(sorted({Fraction(number) * times for number in TRADITIONAL_BPM for times in (Fraction(1, 2), 1, 2)}))
"""The metronome's numbers and, an octave on either side, their halves and doubles: no other in between."""


@dataclass(frozen=True, slots=True)
class Run:
    """One entry of what was played: so many runs at one tempo on one day, and how many of them were clean."""

    day: date
    bpm: Fraction
    clean: int
    total: int

    def __post_init__(self) -> None:
        if not 0 <= self.clean <= self.total or self.total == 0:
            raise ValueError(f"{self.clean} clean of {self.total} cannot be")


@dataclass(frozen=True, slots=True)
class _Standing:
    """How many rungs up; clean runs in a row, clean runs and all runs at this rung on that day."""

    place: int = 0
    day: date | None = None
    row: int = 0
    clean: int = 0
    total: int = 0


def rungs(ladder: LadderOrder) -> tuple[Fraction, ...]:
    """Every rung from slow to target. ValueError where the target is slower than the start."""
    slow, target = ladder.from_bpm, ladder.to_bpm
    if target < slow:
        raise ValueError(f"a ladder climbs: its target {target} is slower than its start {slow}")
    below = tuple(number for number in NUMBERS if slow <= number < target)
    return (*(below or (slow,) * (slow < target)), target)


def rung(ladder: LadderOrder, history: Iterable[Run] = ()) -> Fraction:
    """The tempo to play at now, after a history in the order in which it was played."""
    steps = rungs(ladder)
    standing = reduce(lambda stands, run: _after(stands, run, steps), history, _Standing())
    return steps[standing.place]


def _after(stands: _Standing, run: Run, steps: tuple[Fraction, ...]) -> _Standing:
    """How it stands after one more entry."""
    if run.bpm != steps[stands.place]:
        return stands
    before = stands if stands.day == run.day else _Standing(stands.place)
    row = before.row + run.clean if run.clean == run.total else 0
    clean, total = before.clean + run.clean, before.total + run.total
    if row >= IN_A_ROW and clean >= CLEAN_SHARE * total and stands.place + 1 < len(steps):
        return _Standing(stands.place + 1)
    return _Standing(stands.place, run.day, row, clean, total)
