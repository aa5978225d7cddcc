"""Find the key and the bend that sound a frequency.

Rule    the nearest key of equal temperament at A4 = 440 Hz, which is what a synthesiser plays, and the rest by
        pitch bend. So another A4 or temperament needs no setting on the instrument: at A4 = 442 every
        equal-tempered note is bent by +7.85 cents.
Units   bend 0..16383, 8192 none. Two semitones are 8192 steps: one step is 0.0244 cents, so rounding
        misses by 0.0122 cents at most.
Source  key numbers and 440 Hz: MIDI Tuning Standard, key 69. Bend range: RPN 0.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import floor, log2

from droner.midi.controller_table import BEND_RANGE_SEMITONES, CENTRE_BEND

STANDARD_A4_HZ = 440.0
A4_KEY = 69
HIGHEST_KEY = 127


@dataclass(frozen=True, slots=True)
class BentKey:
    """A key and the bend of its channel."""

    key: int
    bend: int


def bent_key(hz: float) -> BentKey:
    """The key nearest to a frequency, and the bend that reaches it. ValueError beyond the 128 keys."""
    place = A4_KEY + 12 * log2(hz / STANDARD_A4_HZ)
    key = floor(place + 0.5)
    if not 0 <= key <= HIGHEST_KEY:
        raise ValueError(f"{hz:g} Hz lies beyond the keys of MIDI")
    return BentKey(key, _bend(place - key))


def bend_on(key: int, hz: float) -> int:
    """The bend that reaches a frequency from a key. ValueError beyond the range."""
    semitones = A4_KEY + 12 * log2(hz / STANDARD_A4_HZ) - key
    if abs(semitones) >= BEND_RANGE_SEMITONES:
        raise ValueError(f"{hz:g} Hz lies {semitones:+.2f} semitones from key {key}, beyond the range of the bend")
    return _bend(semitones)


def _bend(semitones: float) -> int:
    return CENTRE_BEND + round(semitones / BEND_RANGE_SEMITONES * CENTRE_BEND)
