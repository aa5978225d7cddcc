"""Name what a player may wish of a drone or a click while it sounds."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Wish(Enum):
    """What a key asks for. The value is the word that the table of keys has."""

    DEGREE_UP = "degree up"
    DEGREE_DOWN = "degree down"
    HALF_STEP_UP = "half-step up"
    HALF_STEP_DOWN = "half-step down"
    OCTAVE_UP = "octave up"
    OCTAVE_DOWN = "octave down"
    TIMBRE = "timbre"
    A4_UP = "A4 up"
    A4_DOWN = "A4 down"
    TEMPERAMENT = "temperament"
    SLOWER = "slower"
    FASTER = "faster"
    PATTERN = "pattern"
    METER = "meter"
    PAUSE = "pause"
    END = "end"


@dataclass(frozen=True, slots=True)
class Held:
    """The keys held on a MIDI keyboard, as MIDI key numbers, rising."""

    keys: tuple[int, ...]
