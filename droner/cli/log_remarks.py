"""Remark on what a player told that may be a slip of the hand: it is kept as told, and can be mended.

Rule    a tempo more than twice the plan's, or less than half of it, is remarked on, and an item that is told twice.
Units   beats a minute, as played.
Source  twice and half: common practice, no source.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from droner.score.words import shown_bpm

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from fractions import Fraction

    from droner.practice.plan import PlannedItem

FAR = 2
"""Times the plan's tempo, or of it."""
MENDED = "droner log --correct and --take-back mend a slip"


def named_twice(numbers: Sequence[int]) -> Iterator[str]:
    """The items that are told more than once."""
    twice = [str(number) for number, times in Counter(numbers).items() if times > 1]
    if twice:
        those = f"Item {twice[0]} is" if len(twice) == 1 else f"Items {', '.join(twice)} are"
        yield f"{those} told more than once, and each is written down: {MENDED}."


def far_off(planned: Sequence[PlannedItem], told_bpm: Fraction | None) -> Iterator[str]:
    """A tempo that is far from what the plan asked of some of these items."""
    far = [one for one in planned if told_bpm is not None and not one.item.bpm / FAR <= told_bpm <= one.item.bpm * FAR]
    if far and told_bpm is not None:
        first, more = far[0], f", and {len(far) - 1} more" if len(far) > 1 else ""
        asked = f"{shown_bpm(first.item.bpm)} in the plan (item {first.number}{more})"
        yield f"{shown_bpm(told_bpm)} is far from {asked}; it is written down as told: {MENDED}."
