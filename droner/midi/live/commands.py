"""Name what a player may ask while the music plays, and what the music then does.

Rule    a `Command` is the player's word, from a key of the computer or a pedal. A `Deed` is what the music does about
        it; which deed answers which command is the caller's to say. `usual` pauses on PAUSE and stops on the rest.
Units   a place to go to in quarter notes from the start of the piece (Beats).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from droner.midi.live.moments import Piece
from droner.units import Beats


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


class Act(Enum):
    """A plain deed. PAUSE pauses, or goes on when paused; STOP ends the piece."""

    GO_ON = "go on"
    PAUSE = "pause"
    STOP = "stop"


@dataclass(frozen=True, slots=True)
class Seek:
    """Go to a place in the piece, and play on from there."""

    to: Beats


@dataclass(frozen=True, slots=True)
class ChangeTo:
    """Begin another piece now; its first tones sound before those of this one end."""

    piece: Piece


Deed = Act | Seek | ChangeTo


def usual(command: Command) -> Deed:
    """What the music does when the caller does not say otherwise."""
    return Act.PAUSE if command is Command.PAUSE else Act.STOP
