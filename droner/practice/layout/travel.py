"""Walk a path over the stairs: which stairs, in which direction, and where it turns.

Rule    a run goes from one stair to another, both included. A turning path shows the whole compass both ways
        and comes home; an octave path needs its octave whole; the slow chromatic starts in the middle.
        Where a path turns round between two tonics, the notes there keep the spelling of the way they were reached:
        in melodic minor D7 C7 B flat 6 and not D7 C flat 7, so that no line goes through an augmented second.
Source  raised or lowered on both sides of a turn: common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from droner.practice.drill import Path

if TYPE_CHECKING:
    from droner.practice.layout.stairs import Stairs
    from droner.theory.pitch import Pitch

OCTAVES = {Path.OCTAVE: 1, Path.TWO_OCTAVES: 2}
HOMEWARD = (Path.TURNING, Path.OCTAVE, Path.TWO_OCTAVES)
"""Paths over the stairs that start from a tonic and come home to one."""
PERFECT = {3: 5, 4: 7}
"""Steps and half-steps above the tonic of the degrees that must be perfect to start on: fourth and fifth."""


@dataclass(frozen=True, slots=True)
class Run:
    """One stretch in one direction, from stair `start` to stair `stop`.

    The first `keeps` stairs from the start are spelled as on the way there.
    """

    start: int
    stop: int
    falling: bool
    keeps: int = 0

    def spelled_falling(self, place: int) -> bool:
        """Whether a stair of this run takes the falling spelling."""
        return self.falling != (abs(place - self.start) < self.keeps)


def turning(stairs: Stairs, start: str, onward: int | None = None) -> tuple[tuple[Run, ...], int]:
    """The runs of a turning path, and the stair it comes home to. `start`: "low tonic", "top" or a degree.

    `onward`: the stair from which a later strain goes on, wherever the first one started.
    """
    home, top = stairs.home, stairs.top
    if start == "top":
        high_home, first = stairs.homes()[-1], top if onward is None else onward
        runs = (Run(first, 0, falling=True), Run(0, top, falling=False), Run(top, high_home, falling=True))
        return _walked(runs), high_home
    first = onward if onward is not None else home if start == "low tonic" else _degree(stairs, int(start))
    runs = (Run(first, top, falling=False), Run(top, 0, falling=True), Run(0, home, falling=False))
    return _walked(runs), home


def _walked(runs: tuple[Run, ...]) -> tuple[Run, ...]:
    """The runs that go anywhere."""
    return tuple(run for run in runs if run.start != run.stop)


def _degree(stairs: Stairs, degree: int) -> int:
    """The lowest stair at or above home that is this scale degree; home when the material lacks it."""
    at_home, asked = stairs.rising[stairs.home], degree - 1
    for place, pitch in enumerate(stairs.rising):
        above = pitch - at_home
        if above.steps == asked and above.semitones == PERFECT.get(asked, above.semitones):
            return place
    return stairs.home


def octaves(home: int, count: int, stairs: Stairs) -> tuple[Run, ...]:
    """Up so many octaves from home and back."""
    top = home + count * stairs.octave
    return (Run(home, top, falling=False), Run(top, home, falling=True))


def from_the_middle(stairs: Stairs, middle: Pitch) -> tuple[tuple[Run, ...], int]:
    """Middle to bottom, back to the middle, and on to the top; and the stair in the middle."""
    centre = min(range(len(stairs.rising)), key=lambda place: abs(stairs.rising[place].midi - middle.midi))
    runs = (Run(centre, 0, falling=True), Run(0, centre, falling=False), Run(centre, stairs.top, falling=False))
    return _walked(runs), centre


def kept_spellings(runs: tuple[Run, ...], stairs: Stairs) -> tuple[Run, ...]:
    """The runs, each knowing how many of its first stairs keep the spelling of the run before it."""
    befores = (None, *runs)
    return tuple(
        replace(run, keeps=_keeps(run, stairs)) if before and before.falling != run.falling else run
        for before, run in zip(befores, runs, strict=False)
    )


def _keeps(run: Run, stairs: Stairs) -> int:
    """Stairs from the start of a run until the first that sounds the same both ways."""
    walked = standing(run)
    differing = (stairs.rising[place].midi != stairs.falling[place].midi for place in walked)
    return next((count for count, differs in enumerate(differing) if not differs), len(walked))


def places(run: Run, lowest: int, highest: int, stride: int) -> list[int]:
    """The stairs of a run, a stride apart from its start, on which a cell from `lowest` to `highest` has room."""
    bottom, top = min(run.start, run.stop) - lowest, max(run.start, run.stop) - highest
    return list(range(top, bottom - 1, -stride) if run.falling else range(bottom, top + 1, stride))


def standing(run: Run) -> list[int]:
    """Every stair of a run, for cells that stand on it and may reach beyond."""
    return list(range(run.start, run.stop - 1, -1) if run.falling else range(run.start, run.stop + 1))
