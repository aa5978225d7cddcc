"""Say where a drone sounds alone: where anything else with a pitch would do the player's task.

Rule    who holds the pitch against a partner has nothing else to hold on to. A drone that comes back in tune or off
        is judged by the ear that kept the pitch through the silence: chords, or the guide, would keep it for the
        player. So neither can be asked for in such an item, if it is long enough for a return.
        A drone that falls silent while you play leaves you alone with the pitch, and a difference tone is too soft to
        be heard under chords. So the chords that suit the drill, and the guide of the session, do not sound there;
        chords that the block asks for in so many words do, and the guide with them, and the plan says what they cost.
        Where drone and chords both are the drill's own, they belong together.
        The click always sounds, and so does a guide that the block or the command asks for.
Source  common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.practice.partner_table import HOLD

if TYPE_CHECKING:
    from droner.practice.item import Item

HELD_PITCH = "give away the pitch that you hold against the partner"
RETURN = "give away how the drone comes back"
SILENCE = "keep the pitch for you while the drone is silent"
DIFFERENCE_TONE = "cover the difference tone"


def forbidden(item: Item) -> str:
    """What chords and the guide would do to an item in which they must not sound; empty where they may."""
    if item.block.partner is not None and item.block.partner.role == HOLD:
        return HELD_PITCH
    return RETURN if item.drone.returns and item.fewest_bars >= item.drone.bars_needed else ""


def unwanted(item: Item) -> str:
    """What they would do to an item in which they sound only if asked for; empty where they suit it."""
    drone = item.drone
    if drone.name == item.drill.drone:
        return ""
    if drone.only or (drone.bars_off and not drone.returns and item.fewest_bars >= drone.bars_needed):
        return SILENCE
    return DIFFERENCE_TONE if drone.pairs or drone.ghost_bars else ""


def sounds_alone(item: Item) -> bool:
    """Whether nothing but the drone sounds that has a pitch, but for a guide that is asked for."""
    return bool(forbidden(item) or (unwanted(item) and item.block.changes is None))
