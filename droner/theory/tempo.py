"""Say a tempo as a MIDI file can hold it: whole microseconds a quarter note.

Rule    every tempo is rounded here, once, before any time is computed from it, so that audio, MIDI and the plan's
        minutes come from the same number. A gradual change is a stair of such tempos.
Units   bpm: beats of the meter a minute; us: microseconds a quarter note.
Source  SMF 1.0, set-tempo meta event (FF 51 03): 24 bits of microseconds per quarter note.
"""

from __future__ import annotations

from fractions import Fraction

from droner.units import Beats, Seconds

MICROSECONDS_A_MINUTE = 60_000_000
SLOWEST_US = 0xFFFFFF
"""Longest quarter a MIDI file can hold: 16.8 s."""
QUARTER = Beats(1)


def us_per_quarter(bpm: Fraction | float, beat: Beats = QUARTER) -> int:
    """Whole microseconds a quarter for `bpm` beats of length `beat` a minute, rounded half up."""
    exact = MICROSECONDS_A_MINUTE / (Fraction(bpm) * beat.exact)
    whole = int((exact * 2 + 1) // 2)
    if not 0 < whole <= SLOWEST_US:
        raise ValueError(f"{float(bpm):g} beats a minute cannot be written in a MIDI file")
    return whole


def lasting(length: Beats, quarter_us: int) -> Seconds:
    """How long a span lasts at one tempo."""
    return Seconds(length.exact * quarter_us / 1_000_000)


def glide(onset: Beats, length: Beats, from_us: int, to_us: int, step: Beats) -> list[tuple[Beats, int]]:
    """A gradual change of tempo as a stair of `step`: the first stair at `from_us`, the last at `to_us`.

    The tempo (not the quarter's length) moves by equal amounts, as a player feels it.
    """
    stairs = max(int(length.ratio(step)), 1)
    slow, fast = Fraction(1, from_us), Fraction(1, to_us)
    return [
        (onset + step * stair, round(1 / (slow + (fast - slow) * Fraction(stair, max(stairs - 1, 1)))))
        for stair in range(stairs)
    ]
