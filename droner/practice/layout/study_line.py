"""Lay a written study out in a key, in the octave that suits the compass best.

Rule    degrees count from a tonic; the tonic's octave is the one that puts the study nearest the middle of the
        compass with every note inside it. Accidentals alter the degree of the key's own scale (natural minor
        in minor). Each bar is a cell; a rest is only the space between two notes.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate
from typing import TYPE_CHECKING

from droner.practice.layout.lacking import does_not_fit
from droner.practice.layout.line import LaidNote, Line
from droner.theory.pitch import OCTAVE, Interval, Pitch
from droner.theory.roman import roman
from droner.units import Beats

if TYPE_CHECKING:
    from collections.abc import Iterator

    from droner.practice.drill import Drill, StudyBar, StudyNote
    from droner.practice.layout.line import DoesNotFit
    from droner.theory.instrument import Range
    from droner.theory.key import Key

REST = 0


def study_bars(drill: Drill, key: Key) -> tuple[StudyBar, ...]:
    """The bars of the study as it goes in this key's mode."""
    return drill.study_minor if key.is_minor and drill.study_minor else drill.study


def study_line(drill: Drill, key: Key, compass: Range) -> Line | DoesNotFit:
    """The study in a key, or the note that the compass lacks."""
    notes = _written(study_bars(drill, key) * drill.count)
    degrees = [_interval(written.note, key) for written in notes]
    low, high = min(degrees, key=_height), max(degrees, key=_height)
    tonics = [key.tonic.in_octave(octave) for octave in range(-1, 14)]
    fitting = [
        tonic for tonic in tonics if compass.low.midi <= (tonic + low).midi and (tonic + high).midi <= compass.high.midi
    ]
    middle = (compass.low.midi + compass.high.midi) / 2
    if not fitting:
        lowest = next(tonic for tonic in tonics if (tonic + low).midi >= compass.low.midi)
        return does_not_fit(drill, key, lowest + high, compass)
    tonic = min(fitting, key=lambda pitch: abs((pitch + low).midi + (pitch + high).midi - 2 * middle))
    return Line(tuple(_laid(written, key, tonic) for written in notes), tonic)


def _height(interval: Interval) -> int:
    return interval.semitones


def _interval(note: StudyNote, key: Key) -> Interval:
    """A degree as an interval from the tonic, in the key's own scale."""
    steps = note.degree - 1 if note.degree > 0 else note.degree + 1
    octaves, degree = divmod(steps, 7)
    within = key.scale.rising[degree]
    return Interval(within.steps, within.semitones + note.alter) + OCTAVE * octaves


@dataclass(frozen=True, slots=True)
class _Written:
    """A sounding note of a study in any key: where it falls, in which bar, over which of the bar's numerals."""

    note: StudyNote
    at: Beats
    bar: int
    numeral: str
    opens: bool
    breathes: bool


@lru_cache(maxsize=64)
def _written(bars: tuple[StudyBar, ...]) -> tuple[_Written, ...]:
    return tuple(
        note
        for number, (bar, starts) in enumerate(zip(bars, _bar_lines(bars), strict=True))
        for note in _bar(bar, starts, number)
    )


def _bar_lines(bars: tuple[StudyBar, ...]) -> tuple[Beats, ...]:
    return tuple(accumulate((_length(bar) for bar in bars[:-1]), initial=Beats(0)))


def _length(bar: StudyBar) -> Beats:
    return sum((note.length for note in bar.notes), Beats(0))


def _bar(bar: StudyBar, starts: Beats, number: int) -> Iterator[_Written]:
    sounding = [note for note in bar.notes if note.degree != REST]
    into, whole = Beats(0), _length(bar)
    for note in bar.notes:
        if note.degree != REST:
            numeral = bar.numerals[int(into.ratio(whole) * len(bar.numerals))]
            breathes = bar.breath and note is sounding[-1]
            yield _Written(note, starts + into, number, numeral, note is sounding[0], breathes)
        into += note.length


def _laid(written: _Written, key: Key, tonic: Pitch) -> LaidNote:
    pitch = tonic + _interval(written.note, key)
    return LaidNote(
        pitch,
        pitch,
        written.bar,
        written.opens,
        length=written.note.length,
        chord=roman(written.numeral, key),
        at=written.at,
        breathes=written.breathes,
    )
