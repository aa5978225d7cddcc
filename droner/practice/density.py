"""Slow the beat of a dense rhythm, so that it brings no more notes a second than four to a beat would.

Rule    more than four notes to a felt beat: the tempo written times 4/n, n being the most notes that begin within
        any one beat, down to the nearest traditional metronome number. Just below the metronome it is the whole
        number below; outside both, as it is. In compound time too, where the beat is dotted. A drill with lengths
        of its own is left alone.
Units   felt beats a minute.
Source  common practice, no source.
"""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from functools import lru_cache
from itertools import accumulate
from typing import TYPE_CHECKING

from droner.theory.metronome import FASTEST_BPM, SLOWEST_BPM, numbers_between
from droner.units import Beats

if TYPE_CHECKING:
    from droner.practice.pattern import Rhythm

USUAL_NOTES = 4
"""Notes to a felt beat for which a tempo is meant as it is written. Common practice, no source."""

SLOWEST_WHOLE_BPM = 20
"""Below this a whole number would be too far from what is meant."""


def slowed_bpm(bpm: Fraction, rhythm: Rhythm | None, beat: Beats) -> Fraction:
    """The tempo at which a rhythm is played where `bpm` is written. `rhythm` None: the drill's own lengths."""
    return slowed_by(bpm, slowing(rhythm, beat))


def slowing(rhythm: Rhythm | None, beat: Beats) -> Fraction:
    """By how much a rhythm slows the beat, before it comes to a metronome number: 4/7 for seven notes in one."""
    return Fraction(1) if rhythm is None else min(Fraction(USUAL_NOTES, most_in_a_beat(rhythm, beat)), Fraction(1))


def slowed_by(bpm: Fraction, slows: Fraction) -> Fraction:
    """The tempo at which is played what slows the beat so much, where `bpm` is written."""
    exact = bpm * slows
    if slows == 1:
        return bpm
    if not SLOWEST_WHOLE_BPM <= exact <= FASTEST_BPM:
        return exact
    if exact < SLOWEST_BPM:
        return Fraction(int(exact))
    return Fraction(numbers_between(SLOWEST_BPM, exact)[-1])


@lru_cache(maxsize=256)
def most_in_a_beat(rhythm: Rhythm, beat: Beats) -> int:
    """The most notes of a rhythm that begin within one felt beat."""
    onsets = accumulate(rhythm.lengths[:-1], initial=Beats(0))
    return max(Counter(int(onset.ratio(beat)) for onset in onsets).values())
