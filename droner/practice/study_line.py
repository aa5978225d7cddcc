"""Lay a written study out in a key, in the octave that suits the compass best.

Rule    degrees count from a tonic; the tonic's octave is the one that puts the study nearest the middle of the
        compass with every note inside it. Accidentals alter the degree of the key's own scale (natural minor
        in minor). Each bar is a cell; a rest is only the space between two notes.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.practice.line import DoesNotFit, LaidNote, Line
from droner.theory.pitch import OCTAVE, Interval, Pitch
from droner.theory.roman import roman
from droner.units import Beats

if TYPE_CHECKING:
    from collections.abc import Iterator

    from droner.practice.pattern import Drill, StudyBar, StudyNote
    from droner.theory.instrument import Range
    from droner.theory.key import Key

REST = 0


def study_bars(drill: Drill, key: Key) -> tuple[StudyBar, ...]:
    """The bars of the study as it goes in this key's mode."""
    return drill.study_minor if key.is_minor and drill.study_minor else drill.study


def study_line(drill: Drill, key: Key, compass: Range) -> Line | DoesNotFit:
    """The study in a key, or the note that the compass lacks."""
    bars = study_bars(drill, key)
    degrees = [_interval(note, key) for bar in bars for note in bar.notes if note.degree != REST]
    low, high = min(degrees, key=_height), max(degrees, key=_height)
    tonics = [key.tonic.in_octave(octave) for octave in range(10)]
    fitting = [
        tonic for tonic in tonics if compass.low.midi <= (tonic + low).midi and (tonic + high).midi <= compass.high.midi
    ]
    middle = (compass.low.midi + compass.high.midi) / 2
    if not fitting:
        lowest = next(tonic for tonic in tonics if (tonic + low).midi >= compass.low.midi)
        return DoesNotFit(drill.name, str(key), lowest + high, compass.high)
    tonic = min(fitting, key=lambda pitch: abs((pitch + low).midi + (pitch + high).midi - 2 * middle))
    return Line(tuple(_notes(bars, key, tonic)), tonic)


def _height(interval: Interval) -> int:
    return interval.semitones


def _interval(note: StudyNote, key: Key) -> Interval:
    """A degree as an interval from the tonic, in the key's own scale."""
    steps = note.degree - 1 if note.degree > 0 else note.degree + 1
    octaves, degree = divmod(steps, 7)
    within = key.scale.rising[degree]
    return Interval(within.steps, within.semitones + note.alter) + OCTAVE * octaves


def _notes(bars: tuple[StudyBar, ...], key: Key, tonic: Pitch) -> Iterator[LaidNote]:
    onset = Beats(0)
    for number, bar in enumerate(bars):
        starts = onset
        whole = sum((note.length for note in bar.notes), Beats(0))
        chords = [roman(numeral, key) for numeral in bar.numerals]
        sounding = [note for note in bar.notes if note.degree != REST]
        for note in bar.notes:
            if note.degree != REST:
                chord = chords[int((onset - starts).ratio(whole) * len(chords))]
                pitch = tonic + _interval(note, key)
                opens, breathes = note is sounding[0], bar.breath and note is sounding[-1]
                yield LaidNote(
                    pitch, pitch, number, opens, length=note.length, chord=chord, at=onset, breathes=breathes
                )
            onset += note.length
