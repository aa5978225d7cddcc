"""Place a moment on the ticks of a MIDI file.

Rule    10080 ticks a quarter, four times the least common multiple of 1..10: a quarter or an eighth, dotted or not,
        and a sixteenth divide evenly into 2 to 10 notes on whole ticks, and the notes of a quarter, a dotted
        quarter or an eighth may be cut to half. (3360 would lose ninths, and miss by 2.5 ms at the slowest tempo.) A
        moment that is on no tick is rounded once, half up, from its exact value, never from the tick before.
Units   half a tick is 1/20160 quarter: 0.05 ms at crotchet 60, 0.15 ms at 20, and 0.83 ms at the slowest tempo a
        file can hold (16.8 s a quarter). So no tempo puts a rounded moment a millisecond off.
Source  SMF 1.0: the division is a 15-bit number; a delta has at most 28 bits.
"""

from __future__ import annotations

from droner.units import Beats, Ticks

PPQ = 10_080
LONGEST_DELTA = Ticks(0x0FFFFFFF)
"""The longest wait between two events: 26630 quarters, 7.4 hours at crotchet 60."""


def tick_at(moment: Beats) -> Ticks:
    """The tick at which a moment falls."""
    return Ticks((moment.exact * PPQ * 2 + 1) // 2)
