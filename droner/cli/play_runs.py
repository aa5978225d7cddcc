"""Find the run that a mark is for: the one that sounds, else the one before it.

Rule    a run begins with its first bar: in the lead-in and the count-in a mark is still for the run before. A time
        through that is only listened to is nobody's run.
Units   felt beats a minute; seconds of one time through, its count-in included.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from droner.score.words import shown_bpm
from droner.units import Beats

if TYPE_CHECKING:
    from droner.practice.plan import PlannedItem

WHOLE = Fraction(100)


@dataclass(frozen=True, slots=True)
class Run:
    """One time through an item, at the tempo that is played; `number` counts them from 0."""

    planned: PlannedItem
    bpm: Fraction
    seconds: Fraction
    only_listened: bool = False
    number: int = 0

    @property
    def words(self) -> str:
        """What it is called on the screen."""
        item = self.planned.item
        return f"{item.drill.name}{f', {item.key}' if item.key else ''}, {shown_bpm(self.bpm)}"


def run_at(planned: PlannedItem, moment: Beats) -> Run | None:
    """The run that has begun last by a moment of the item; None before its first bar."""
    item = planned.item
    begun = [repeat for repeat in item.performance.repeats if repeat.phrases[0].onset <= moment]
    if not begun:
        return None
    number, repeat = len(begun) - 1, begun[-1]
    ends = repeat.phrases[-1].onset + repeat.phrases[-1].phrase.length
    quarter_us = item.course.quarter_us(repeat.speed)
    seconds = (ends - repeat.onset).exact * quarter_us / 1_000_000
    listened = item.block.listen_first and number == 0
    return Run(planned, item.bpm * repeat.speed / WHOLE, Fraction(round(seconds * 1000), 1000), listened, number)
