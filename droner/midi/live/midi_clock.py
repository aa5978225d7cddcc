"""Beat the MIDI clock, for an instrument that follows ours.

Rule    24 clocks a quarter from beat 0, none at the end, where the stop is. The start is sent ahead of the first
        clock, which is the first of the music. To go on in the middle, the song position names the next sixteenth,
        and the clocks count from there.
Units   beats are quarter notes; a song position counts sixteenths, six clocks each, in 14 bits.
Source  MIDI 1.0 system real time and common messages: F8 clock, FA start, FB continue, FC stop, F2 song position.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import ceil

from droner.midi.conductor import CLOCKS_A_QUARTER
from droner.units import Beats

CLOCK = b"\xf8"
START = b"\xfa"
CONTINUE = b"\xfb"
STOP = b"\xfc"
SONG_POSITION = 0xF2
SIXTEENTH = Beats(1, 4)
FURTHEST = 0x3FFF
"""The last sixteenth that 14 bits can name, at beat 4095.75; from there a follower is left behind."""


def clock_beats(length: Beats) -> Iterator[tuple[Beats, bytes]]:
    """Each clock at its beat, and the stop at the end."""
    for count in range(ceil(length.exact * CLOCKS_A_QUARTER)):
        yield Beats(Fraction(count, CLOCKS_A_QUARTER)), CLOCK
    yield length, STOP


def next_sixteenth(beat: Beats) -> int:
    """The number of the first sixteenth at a beat or after it."""
    return min(ceil(beat.ratio(SIXTEENTH)), FURTHEST)


def song_position(sixteenth: int) -> bytes:
    """Eight sixteenths, the third quarter, are F2 08 00: low seven bits first."""
    return bytes((SONG_POSITION, sixteenth & 0x7F, sixteenth >> 7))
