"""Tune the solo with the chords under it.

Rule    a note that is in the sounding chord sounds as it does there; any other note goes as far from its place as the
        chord has gone. Where no chord sounds, notes stay where they are.
Units   hertz; cents.
Source  a note of the drill that is in the chord agrees with the chord: common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from droner.theory.cents import factor_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from droner.score.score import SoloNote
    from droner.score.tuned_chord import TunedChord


def agreeing(solo: Sequence[SoloNote], changes: Sequence[TunedChord]) -> tuple[SoloNote, ...]:
    """The solo in tune with the chords; both in order of onset."""
    tuned, coming = [], 0
    for note in solo:
        while coming < len(changes) and changes[coming].event.onset <= note.onset:
            coming += 1
        chord = changes[coming - 1] if coming else None
        under = chord is not None and note.onset < chord.event.onset + chord.event.length
        tuned.append(_agreeing(note, chord) if chord and under else note)
    return tuple(tuned)


def _agreeing(note: SoloNote, chord: TunedChord) -> SoloNote:
    for tone in chord.event.tones:
        if tone.pitch.name == note.pitch.name:
            return replace(note, hz=tone.hz * 2.0 ** (note.pitch.octave - tone.pitch.octave))
    return replace(note, hz=note.hz * factor_of(chord.drift_cents)) if chord.drift_cents else note
