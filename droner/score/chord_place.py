"""Say where a chord stands on its tonic, and how it would be pure in itself.

Rule    a chord that is pure in itself is tuned on its own root: its fifth, its thirds and its fourth pure, with the
        minor third and the minor seventh that the player chose. A diminished fifth and seventh are pure minor
        thirds above one another; over a fourth the minor seventh is another fourth.
Units   hertz; cents against equal temperament at the same A4, which are the same in every octave.
Source  five-limit arithmetic: diminished 25:30:36, suspended 6:8:9 and 8:9:12.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import TYPE_CHECKING

from droner.score.pure_chord import moved
from droner.theory.cents import cents_between, cents_of
from droner.theory.interval import interval
from droner.theory.just import Just
from droner.theory.tuning import equal_hz

if TYPE_CHECKING:
    from droner.theory.chord import Chord
    from droner.theory.pitch import Interval, NoteName, Pitch
    from droner.theory.tuning import Tuning

OWN_SIZES: Mapping[Interval, Fraction] = MappingProxyType(
    {
        interval("M2"): Fraction(9, 8),
        interval("d5"): Fraction(36, 25),
        interval("d7"): Fraction(216, 125),
    }
)
"""Intervals above the root of a chord that are not those above the tonic of a scale."""
FOURTH, MINOR_SEVENTH, TWO_FOURTHS = interval("P4"), interval("m7"), Fraction(16, 9)
EQUAL_HALF_STEP_CENTS = 100


@dataclass(frozen=True, slots=True)
class ChordPlace:
    """A chord as it sounds, in its tuning.

    `factors`: by what its notes leave the scale so that it has no wolf. `is_home`: it stands on the tonic.
    """

    chord: Chord
    tuned: Tuning
    factors: Mapping[NoteName, Fraction]
    is_home: bool = False

    def hz(self, pitch: Pitch) -> float:
        """Where a pitch of the chord sounds, anchored to the tonic."""
        return self.tuned.hz(pitch) * float(self.factors.get(pitch.name, 1))

    @property
    def cents(self) -> tuple[float, ...]:
        """How far each note, anchored, lies above equal temperament: from the root upwards."""
        pitches = [name.in_octave(4) for name in self.chord.notes]
        return tuple(cents_between(equal_hz(self.tuned.a4_hz, pitch), self.hz(pitch)) for pitch in pitches)

    @property
    def pure(self) -> tuple[float, ...]:
        """How far each note of the chord, pure in itself, lies above equal temperament on the root's own place."""
        intervals = self.chord.quality.intervals
        return tuple(cents_of(self._size(one, intervals)) - EQUAL_HALF_STEP_CENTS * one.semitones for one in intervals)

    @property
    def is_just(self) -> bool:
        """Whether its tuning has pure chords at all."""
        return isinstance(self.tuned.temperament, Just)

    def _size(self, above: Interval, chord: tuple[Interval, ...]) -> float:
        if above == MINOR_SEVENTH and FOURTH in chord:
            return float(TWO_FOURTHS)
        return float(OWN_SIZES.get(above) or self.tuned.temperament.factor(above))


def chord_place(chord: Chord, tuned: Tuning, drone: frozenset[NoteName], tonic: NoteName | None = None) -> ChordPlace:
    """Where a chord stands while the drone holds some notes. `tonic`: where it is not what the tuning starts from."""
    is_home = chord.root == (tonic or tuned.reference)
    return ChordPlace(chord, tuned, MappingProxyType(moved(chord, tuned, drone)), is_home)
