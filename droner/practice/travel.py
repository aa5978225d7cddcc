"""Walk a path over the stairs: which stairs, in which direction, and where it turns.

Rule    a run goes from one stair to another, both included. A turning path shows the whole compass both ways
        and comes home; an octave path needs its octave whole; the slow chromatic starts in the middle.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from droner.practice.pattern import Path

if TYPE_CHECKING:
    from droner.practice.stairs import Stairs
    from droner.theory.pitch import Pitch

OCTAVES = {Path.OCTAVE: 1, Path.TWO_OCTAVES: 2}


@dataclass(frozen=True, slots=True)
class Run:
    """One stretch in one direction, from stair `start` to stair `stop`."""

    start: int
    stop: int
    falling: bool


def turning(stairs: Stairs, start: str) -> tuple[tuple[Run, ...], int]:
    """The runs of a turning path, and the stair it comes home to. `start`: "low tonic", "top" or a degree."""
    home, top = stairs.home, stairs.top
    if start == "top":
        high_home = stairs.homes()[-1]
        return (Run(top, 0, falling=True), Run(0, top, falling=False), Run(top, high_home, falling=True)), high_home
    first = home if start == "low tonic" else _degree(stairs, int(start))
    return (Run(first, top, falling=False), Run(top, 0, falling=True), Run(0, home, falling=False)), home


def _degree(stairs: Stairs, degree: int) -> int:
    """The lowest stair at or above home that is this scale degree; home when the material lacks it."""
    at_home = stairs.rising[stairs.home].position
    steps = [(place, pitch.position - at_home) for place, pitch in enumerate(stairs.rising)]
    return next((place for place, step in steps if step == degree - 1), stairs.home)


def octaves(home: int, count: int, stairs: Stairs) -> tuple[Run, ...]:
    """Up so many octaves from home and back."""
    top = home + count * stairs.octave
    return (Run(home, top, falling=False), Run(top, home, falling=True))


def from_the_middle(stairs: Stairs, middle: Pitch) -> tuple[Run, ...]:
    """Middle to bottom, back to the middle, and on to the top."""
    centre = min(range(len(stairs.rising)), key=lambda place: abs(stairs.rising[place].midi - middle.midi))
    return (Run(centre, 0, falling=True), Run(0, centre, falling=False), Run(centre, stairs.top, falling=False))


def places(run: Run, lowest: int, highest: int, stride: int) -> list[int]:
    """The stairs of a run on which a cell reaching from `lowest` to `highest` stays inside the run.

    Strides are walked from the start of the run; where a stride misses the end, one last place is added.
    """
    bottom, top = min(run.start, run.stop) - lowest, max(run.start, run.stop) - highest
    if bottom > top:
        return []
    walked = list(range(top, bottom - 1, -stride) if run.falling else range(bottom, top + 1, stride))
    last = bottom if run.falling else top
    return walked if walked[-1] == last else [*walked, last]


def standing(run: Run) -> list[int]:
    """Every stair of a run, for cells that stand on it and may reach beyond."""
    return list(range(run.start, run.stop - 1, -1) if run.falling else range(run.start, run.stop + 1))
