"""Tune the chords of just tuning so that none of them has a wolf in it.

Rule    a chord takes its notes from the scale on the tonic. Where that puts one note of a major or minor chord a
        syntonic comma off the other two, as in the chord on the second degree, that note comes in its second
        size. The notes which stay are those that the drone holds, else the tonic, fourth and fifth, else the two
        that agree. So nothing drifts: every chord stands on the same tonic. Sevenths, diminished and augmented
        chords stay in the scale.
Units   hertz; factors are ratios of frequencies.
Source  two sizes of the second degree, 9/8 and 10/9: five-limit arithmetic. A note of the drill that is in the chord
        agrees with the chord: common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from droner.theory.cents import SYNTONIC_COMMA
from droner.theory.interval import interval
from droner.theory.just import MAJOR_THIRD, Just
from droner.theory.pitch import NoteName

if TYPE_CHECKING:
    from collections.abc import Sequence

    from droner.score.score import ChordEvent, SoloNote
    from droner.theory.chord import Chord
    from droner.theory.tuning import Tuning

PURE = {
    interval("P1"): Fraction(1),
    interval("M3"): MAJOR_THIRD,
    interval("m3"): Fraction(6, 5),
    interval("P5"): Fraction(3, 2),
}
COMMAS = frozenset({1 / SYNTONIC_COMMA, Fraction(1), SYNTONIC_COMMA})
ANCHORED_FIFTHS = frozenset({-1, 0, 1})
"""Fourth, tonic and fifth, by their place on the line of fifths."""
IN_DRONE, ANCHORED, FREE = 2, 1, 0


def moved(chord: Chord, tuned: Tuning, drone: frozenset[NoteName]) -> dict[NoteName, Fraction]:
    """By which factor notes of the chord leave the scale, for those that do. `drone`: the notes it holds."""
    triad = chord.notes[:3]
    off = _off(chord, tuned)
    if off is None or len(set(off)) != 2:
        return {}
    odd = next(place for place in range(3) if off.count(off[place]) == 1)
    pair = [place for place in range(3) if place != odd]
    weights = [_weight(name, tuned.reference, drone) for name in triad]
    if weights[odd] > max(weights[place] for place in pair):
        return {triad[place]: off[odd] / off[place] for place in pair}
    return {triad[odd]: off[pair[0]] / off[odd]}


def _off(chord: Chord, tuned: Tuning) -> tuple[Fraction, ...] | None:
    """How far root, third and fifth lie above a pure chord on the root: by a comma or not at all; else None."""
    just, reference = tuned.temperament, tuned.reference.in_octave(4)
    if not isinstance(just, Just):
        return None
    ratios = [just.ratio((name.in_octave(4) - reference).within_octave) for name in chord.notes[:3]]
    off = []
    for ratio, above in zip(ratios, chord.quality.intervals, strict=False):
        pure = PURE.get(above)
        if ratio is None or ratios[0] is None or pure is None:
            return None
        off.append(_near_one(ratio / (ratios[0] * pure)))
    return tuple(off) if len(off) == 3 and COMMAS.issuperset(off) else None


def _near_one(ratio: Fraction) -> Fraction:
    """The ratio, moved by octaves to lie about 1."""
    while ratio > Fraction(3, 2):
        ratio /= 2
    while ratio < Fraction(3, 4):
        ratio *= 2
    return ratio


def _weight(name: NoteName, tonic: NoteName, drone: frozenset[NoteName]) -> int:
    if name in drone:
        return IN_DRONE
    return ANCHORED if name.fifths - tonic.fifths in ANCHORED_FIFTHS else FREE


def agreeing(solo: Sequence[SoloNote], changes: Sequence[ChordEvent]) -> tuple[SoloNote, ...]:
    """The solo with each note that is also in the sounding chord tuned as it is there."""
    tuned, coming = [], 0
    for note in solo:
        while coming < len(changes) and changes[coming].onset <= note.onset:
            coming += 1
        chord = changes[coming - 1] if coming else None
        under = chord is not None and note.onset < chord.onset + chord.length
        tuned.append(_agreeing(note, chord) if chord and under else note)
    return tuple(tuned)


def _agreeing(note: SoloNote, chord: ChordEvent) -> SoloNote:
    for tone in chord.tones:
        if tone.pitch.name == note.pitch.name:
            return replace(note, hz=tone.hz * 2.0 ** (note.pitch.octave - tone.pitch.octave))
    return note
