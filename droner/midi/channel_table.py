"""Plan the sixteen channels: who plays on which, and what may be lent.

Rule    a channel bends as a whole, so tones that sound together at different bends need channels of their
        own, and a note's release is only left in peace when the next note takes another channel.
        solo     2: neighbouring notes alternate, so that no release is bent by the note after it.
        drone    5: four tones at once and one to move to; more are lent by the changes.
        changes  8: four voices, each with a channel to move to.
        click    1: channel 10, the percussion channel of General MIDI.
Units   channels are numbered 1..16 as on an instrument's panel; on the wire they are 0..15.
Source  percussion on channel 10: General MIDI level 1. The rest is our plan.
"""

from __future__ import annotations

from enum import Enum


class Part(Enum):
    """A part of the score as a track of the file. The value is the track's name; the order is the file's."""

    SOLO = "Solo"
    DRONE = "Drone"
    CHANGES = "Changes"
    CLICK = "Click"


CHANNELS: tuple[tuple[int, Part], ...] = (
    (1, Part.SOLO),
    (2, Part.SOLO),
    (3, Part.DRONE),
    (4, Part.DRONE),
    (5, Part.DRONE),
    (6, Part.DRONE),
    (7, Part.CHANGES),
    (8, Part.CHANGES),
    (9, Part.CHANGES),
    (10, Part.CLICK),
    (11, Part.CHANGES),
    (12, Part.CHANGES),
    (13, Part.CHANGES),
    (14, Part.CHANGES),
    (15, Part.CHANGES),
    (16, Part.DRONE),
)


def owned_by(part: Part) -> tuple[int, ...]:
    """The channels that the table gives a part, lowest first."""
    return tuple(channel for channel, owner in CHANNELS if owner is part)
