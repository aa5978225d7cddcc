"""Say how far one breath carries a line, and how much silence a phrase of so many notes leaves at its bar line.

Rule    a breath carries as many rhythm cells as the air lasts, the held last note included; at least one. A phrase
        that is followed by another had better fill its bars: only so many cells, that no more than two beats pass in
        silence beyond the time to breathe. Where the air is shorter than that takes, it carries what it can.
Units   silence beyond the breath in seconds, as a float: it is only compared.
Source  arithmetic. Two beats: common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from droner.practice.shape import LEAST_HOLD, cell_length, needless_rest, written_rest
from droner.theory.tempo import lasting

if TYPE_CHECKING:
    from droner.practice.layout.line import LaidNote
    from droner.practice.shape import Pace
    from droner.units import Beats

MOST_NEEDLESS = 2
"""Felt beats of silence beyond the breath that a phrase before another may leave. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Reach:
    """What a line is cut by.

    `most` notes are carried by one breath, both ends included; `inner` of them in a phrase before another one.
    `size` notes fill a cell of the rhythm. `needless[n]`: seconds of silence beyond the breath after n cells;
    empty where that is not known.
    """

    most: int
    inner: int
    size: int = 1
    needless: tuple[float, ...] = ()


@lru_cache(maxsize=1024)
def most_notes(pace: Pace) -> int:
    """How many notes of this rhythm one breath carries, the held last note included; at least two cells' worth."""
    assert pace.rhythm is not None, "drills with their own lengths are timed by them"  # noqa: S101 - callers look
    cell = lasting(cell_length(pace), pace.quarter_us)
    spare = pace.air - lasting(pace.meter.beat * LEAST_HOLD, pace.quarter_us)
    return max(int(spare.ratio(cell)), 1) * len(pace.rhythm.lengths) + 1


@lru_cache(maxsize=1024)
def rhythm_reach(pace: Pace) -> Reach:
    """How far a breath carries a line in the pace's rhythm."""
    assert pace.rhythm is not None, "drills with their own lengths are timed by them"  # noqa: S101 - callers look
    most, size = most_notes(pace), len(pace.rhythm.lengths)
    rests = [needless_rest(cells, pace) for cells in range((most - 1) // size + 1)]
    return _reach(most, size, rests, pace)


def written_reach(notes: tuple[LaidNote, ...], pace: Pace) -> Reach:
    """How far a breath carries a line in the drill's own lengths, by the longest of them."""
    lengths = {note.length or pace.meter.beat for note in notes}
    most = max(int(pace.air.ratio(lasting(max(lengths), pace.quarter_us))), 2)
    if len(lengths) > 1:  # what is silent after them depends on where they are cut
        return Reach(most, most)
    (length,) = lengths
    return _reach(most, 1, [written_rest((length,) * (steps + 1), pace) for steps in range(most)], pace)


def _reach(most: int, size: int, rests: list[Beats], pace: Pace) -> Reach:
    """The reach whose phrases leave these rests after 0, 1, 2 ... cells."""
    filling = [cells for cells, rest in enumerate(rests) if cells and rest <= pace.meter.beat * MOST_NEEDLESS]
    inner = filling[-1] * size + 1 if filling else most
    return Reach(most, inner, size, tuple(float(lasting(rest, pace.quarter_us)) for rest in rests))
