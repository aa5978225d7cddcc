"""Give a line its rhythm and its breaths: phrases that start on a bar line and end with air to spare.

Rule    a phrase fills whole bars. Its last note falls on a beat, is held as long as air and bar allow, and leaves
        real time to breathe before the next bar line, so the click never loses its place. A line too long for the
        air is cut at a musical place (a turn, else the tonic, else a cell), and the note on which it stops is taken
        again after the breath.
Units   onsets within a phrase in Beats from its bar line; air and rest in Seconds.
Source  breath marks at cuts with the note retaken: common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from droner.practice.cut import cut
from droner.practice.reach import most_notes, rhythm_reach, written_reach
from droner.practice.shape import rhythm_shape, written_shape
from droner.theory.tempo import lasting
from droner.units import Beats

if TYPE_CHECKING:
    from droner.practice.layout.line import LaidNote, Line
    from droner.practice.shape import Pace, Slot, Slots


@dataclass(frozen=True, slots=True)
class TimedNote:
    """One note of a phrase: where it falls, how long it is written, and its place in the rhythm cell."""

    onset: Beats
    length: Beats
    laid: LaidNote
    group: int
    place: int
    size: int


@dataclass(frozen=True, slots=True, eq=False)
class Phrase:
    """Notes between two breaths. `length` is whole bars; the last `rest` of it is for breathing.

    A plan of years only asks how long a phrase is, so its notes are timed when they are looked at.
    """

    laid: tuple[LaidNote, ...]
    slots: Slots
    length: Beats
    rest: Beats

    @property
    def notes(self) -> tuple[TimedNote, ...]:
        """Its notes in time."""
        return _timed(self)


@lru_cache(maxsize=4096)
def _timed(phrase: Phrase) -> tuple[TimedNote, ...]:
    return tuple(
        TimedNote(onset, long, note, group, place, size)
        for note, (onset, long, group, place, size) in zip(phrase.laid, phrase.slots, strict=True)
    )


def phrases(line: Line, pace: Pace, breath_cells: int) -> tuple[Phrase, ...]:
    """The line in phrases. `breath_cells`: a breath after so many cells; 0: where the air needs it."""
    if line.notes[0].at is not None:
        marked = _by_breath_mark(line.notes)
        return tuple(_study_phrase(notes, pace) for long in marked for notes in _within_air(long, pace))
    if breath_cells:
        chunks = [notes for long in _by_cells(line.notes, breath_cells) for notes in _within_air(long, pace)]
    else:
        chunks = cut(line.notes, rhythm_reach(pace) if pace.rhythm else written_reach(line.notes, pace), line.home)
    return tuple(_phrase(notes, pace) for notes in chunks)


def _phrase(notes: tuple[LaidNote, ...], pace: Pace) -> Phrase:
    if pace.rhythm and notes[0].length is None:
        slots, length, rest = rhythm_shape(len(notes), pace)
    else:
        slots, length, rest = written_shape(tuple(note.length or pace.meter.beat for note in notes), pace)
    return Phrase(notes, slots, length, rest)


def _by_cells(notes: tuple[LaidNote, ...], cells: int) -> list[tuple[LaidNote, ...]]:
    starts = [place for place, note in enumerate(notes) if place == 0 or (note.opens and note.cell % cells == 0)]
    return [notes[start:stop] for start, stop in zip(starts, [*starts[1:], len(notes)], strict=True)]


def _by_breath_mark(notes: tuple[LaidNote, ...]) -> list[tuple[LaidNote, ...]]:
    ends = [place + 1 for place, note in enumerate(notes) if note.breathes]
    ends = ends if ends and ends[-1] == len(notes) else [*ends, len(notes)]
    return [notes[start:stop] for start, stop in zip([0, *ends[:-1]], ends, strict=True)]


def _within_air(notes: tuple[LaidNote, ...], pace: Pace) -> list[tuple[LaidNote, ...]]:
    """Cells, or a study's phrase of bars, halved between two of them as often as the air asks."""
    joints = [place for place, note in enumerate(notes) if note.opens and place]
    if _is_carried(notes, pace) or not joints:
        return [notes]
    middle = min(joints, key=lambda place: abs(2 * place - len(notes)))
    return [*_within_air(notes[:middle], pace), *_within_air(notes[middle:], pace)]


def _is_carried(notes: tuple[LaidNote, ...], pace: Pace) -> bool:
    """Whether one breath carries all of these notes."""
    if pace.rhythm and notes[0].length is None:
        return len(notes) <= most_notes(pace)
    sounding = sum((note.length or pace.meter.beat for note in notes), Beats(0))
    return lasting(sounding, pace.quarter_us) <= pace.air


def _study_phrase(notes: tuple[LaidNote, ...], pace: Pace) -> Phrase:
    """A phrase of a study, as written; the breath is taken out of its last note, never out of the time."""
    bar = pace.meter.bar
    first = notes[0]
    assert first.at is not None, "a study writes where its notes fall"  # noqa: S101 - by construction
    starts = bar * int(first.at.exact // bar.exact)
    slots: list[Slot] = []
    for place, note in enumerate(notes):
        assert note.at is not None, "a study writes where its notes fall"  # noqa: S101 - by construction
        assert note.length is not None, "and how long they are"  # noqa: S101 - by construction
        slots.append((note.at - starts, note.length, 0, place, len(notes)))
    onset, long = slots[-1][:2]
    length = bar * int(-(-(onset + long).exact // bar.exact))
    if onset + long == length:
        long -= min(long, pace.meter.beat) / 2
        slots[-1] = (onset, long, 0, len(notes) - 1, len(notes))
    return Phrase(notes, tuple(slots), length, length - onset - long)
