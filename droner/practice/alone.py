"""Say where a drone sounds alone: where anything else with a pitch would do the player's task.

Rule    who holds the pitch against a partner has nothing else to hold on to. A drone that comes back in tune or off
        is judged by the ear that kept the pitch through the silence: chords, or the guide, would keep it for the
        player. So neither sounds in such an item, if it is long enough for a return; a click does, and so does a guide
        that the command asks for.
Source  common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.practice.partner_table import HOLD

if TYPE_CHECKING:
    from droner.practice.item import Item

HELD_PITCH = "the pitch that you hold against the partner"
RETURN = "how the drone comes back"


def given_away(item: Item) -> str:
    """What chords and the guide would give away in an item, in words; empty where they may sound."""
    if item.block.partner is not None and item.block.partner.role == HOLD:
        return HELD_PITCH
    return RETURN if item.drone.returns and item.fewest_bars >= item.drone.bars_needed else ""


def sounds_alone(item: Item) -> bool:
    """Whether nothing but the drone may sound that has a pitch."""
    return bool(given_away(item))
