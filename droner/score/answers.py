"""Tell at the end how a drone came back, in words.

Rule    one cue when the last note is over, in the last bar or before it; no text of the item says anything earlier.
Units   whole cents, as drawn.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.score.score import Cue
from droner.score.words import spoken

if TYPE_CHECKING:
    from collections.abc import Sequence

    from droner.practice.item import Item
    from droner.score.score import Answer

BEGINNING = "the drone came back"


def answer_cues(item: Item, answers: Sequence[Answer]) -> tuple[Cue, ...]:
    """The answers of an item in order, as one cue; none without answers."""
    if not answers:
        return ()
    last, end = item.performance.repeats[-1].phrases[-1], item.performance.length
    over = max(end - last.phrase.rest, end - item.meter.bar)
    shown = f"{BEGINNING}: {', '.join(heard_words(answer.cents) for answer in answers)}"
    return (Cue(over, shown, spoken(shown)),)


def heard_words(cents: float) -> str:
    """How far off a drone was, as a player says it: "in tune", "4 cents sharp"."""
    if not cents:
        return "in tune"
    size = f"{abs(cents):g} cent{'s' * (abs(cents) != 1)}"
    return f"{size} {'sharp' if cents > 0 else 'flat'}"
