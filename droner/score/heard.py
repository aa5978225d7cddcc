"""Say what of an item's drill is played along: all of it, the first time through, or nothing.

Rule    the guide plays where the command, the block or the session ask for it. Where the player listens first, it
        plays the first time through and is silent afterwards.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from droner.practice.item import Item
    from droner.score.score import Score


def heard(score: Score, item: Item, *, guide: bool) -> Score:
    """The score with as much of its solo as is heard."""
    if guide:
        return score
    if not item.block.listen_first:
        return replace(score, solo=())
    second = item.performance.repeats[1].onset
    return replace(score, solo=tuple(note for note in score.solo if note.onset < second))
