"""Make the pieces of a live day, each from its item as it is to be played now.

Rule    the same score as the files': composed, with as much of its solo as is heard. An item is played as planned,
        unless its ladder has climbed since, or the player has asked for another tempo; the player's word counts most.
        With a ladder that may climb between repeats each run of an item is a piece of its own, but where the player
        listens first.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from droner.cli.play_tempo import at_tempo, is_same_rung, on_rung, run_of, rung_now
from droner.cli.tracks import plays_along
from droner.score.compose import compose
from droner.score.heard import heard
from droner.theory.metronome import FASTEST_BPM, SLOWEST_BPM, stepped_bpm

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from droner.cli.day import Day
    from droner.cli.play_output import Output, Piece
    from droner.practice.item import Item
    from droner.practice.ladder.rung import Rung
    from droner.practice.logbook.entry import Entry
    from droner.practice.plan import PlannedItem
    from droner.score.score import Score


MOST_KEPT = 3
"""This one, the one before, the next."""


@dataclass(frozen=True, slots=True)
class Step:
    """One piece of the day: an item, or one run of it. `opens` marks the first of an item."""

    planned: PlannedItem
    run: int | None = None

    @property
    def opens(self) -> bool:
        """Whether the item begins here."""
        return not self.run


@dataclass(frozen=True, slots=True)
class Made:
    """A step made ready: the item as it is played now, its score, its piece."""

    planned: PlannedItem
    score: Score
    piece: Piece


def steps(planned: Sequence[PlannedItem], *, climb: bool) -> Iterator[Step]:
    """The pieces of the day in order."""
    for each in planned:
        item = each.item
        if climb and item.block.ladder and len(item.speeds) > 1 and not item.block.listen_first:
            yield from (Step(each, run) for run in range(len(item.speeds)))
        else:
            yield Step(each)


class Maker:
    """Makes pieces, and keeps the last ones: what is played again as it was is there at once. For one thread."""

    def __init__(self, day: Day, output: Output, *, guide: bool | None) -> None:
        self._day, self._output, self._guide = day, output, guide
        self._asked_bpm: dict[int, Fraction] = {}
        self._climbed: dict[tuple[int, str], Rung] = {}
        self._kept: dict[Step, tuple[Fraction, Rung, Made]] = {}

    def make(self, step: Step) -> Made:
        """A step, made ready."""
        item = self._item(step)
        kept = self._kept.pop(step, None)
        made = kept[2] if kept and kept[:2] == (item.bpm, item.rung) else self._made(step, item)
        self._kept[step] = (item.bpm, item.rung, made)
        if len(self._kept) > MOST_KEPT:
            del self._kept[next(iter(self._kept))]
        return made

    def _made(self, step: Step, item: Item) -> Made:
        planned = replace(step.planned, item=item)
        score = compose(item, self._day.session, self._day.plan.sessions_before)
        sounding = heard(score, item, guide=plays_along(planned, self._day, self._guide))
        return Made(planned, sounding, self._output.ready(sounding))

    def _item(self, step: Step) -> Item:
        """The item of a step, as it is to be played now."""
        planned = step.planned.item
        rung = self._climbed.get(self._ladder(planned))
        item = planned if rung is None or is_same_rung(rung, planned.rung) else on_rung(self._day, planned, rung)
        item = at_tempo(item, self._asked_bpm.get(step.planned.number, item.bpm))
        return item if step.run is None else run_of(item, step.run, planned)

    def step_tempo(self, step: Step, clicks: int) -> bool:
        """Ask for so many numbers of the metronome faster or slower; False where it has no further number."""
        before = self._item(step).bpm
        if not SLOWEST_BPM <= before <= FASTEST_BPM:
            return False
        after = Fraction(stepped_bpm(before, clicks))
        self._asked_bpm[step.planned.number] = after
        return after != before

    def climb(self, planned: PlannedItem, played_today: Sequence[Entry]) -> Rung | None:
        """Work out anew where the ladder of an item stands. If it has moved, its tempo is the ladder's again."""
        item = planned.item
        rung = rung_now(self._day, item, played_today)
        if rung is None or is_same_rung(rung, self._climbed.get(self._ladder(item), item.rung)):
            return None
        self._climbed[self._ladder(item)] = rung
        self._asked_bpm.pop(planned.number, None)
        return rung

    def _ladder(self, item: Item) -> tuple[int, str]:
        return item.block.number, self._day.planner.group(item)
