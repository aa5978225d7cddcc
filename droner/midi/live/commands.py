"""Name what a player of a live day may ask, by a key of the computer or a pedal.

Rule    what the music then does about it is the caller's to say: see `droner.live.words`.
"""

from __future__ import annotations

from enum import Enum


class Command(Enum):
    """What a player asks for. The value is the word shown."""

    NEXT = "next"
    AGAIN = "again"
    PAUSE = "pause"
    SLOWER = "slower"
    FASTER = "faster"
    CLEAN = "clean"
    NOT_YET = "not yet"
    DRONE_ONLY = "drone only"
    END = "end"
