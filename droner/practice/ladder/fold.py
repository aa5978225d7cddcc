"""Fold everything that was played on a ladder into where it stands and how it got there.

Rule    nothing is stored: same history, same climb. Runs are taken day by day, and in the order given within a day.
Units   whole days, the player's own.
"""

from __future__ import annotations

from operator import attrgetter
from typing import TYPE_CHECKING

from droner.practice.ladder.state import Climb
from droner.practice.ladder.walk import Walk
from droner.practice.ladder.way import way_of

if TYPE_CHECKING:
    from collections.abc import Iterable

    from droner.practice.ladder.state import Played
    from droner.practice.ladder.way import Reach
    from droner.practice.session import LadderOrder


def climbed(order: LadderOrder, runs: Iterable[Played]) -> Climb:
    """The climb of a whole history. ValueError for a ladder that does not climb."""
    way = way_of(order)
    walk = Walk(way, order)
    ordered = sorted(runs, key=attrgetter("day"))
    known: dict[tuple[int, str], Reach | None] = {}
    first = None
    for run in ordered:
        asked = (id(run.bpm), run.step)  # the runs are held meanwhile: no two tempos are one object
        if asked not in known:
            known[asked] = way.reach(run.bpm, run.step)
        if reach := known[asked]:
            first = first or run.day
            walk.take(run, reach)
    walk.close()
    return Climb(walk.state, tuple(walk.moves), first)
