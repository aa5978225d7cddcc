"""Give a line its rhythm and its breaths: phrases that start on a bar line and end with air to spare.

Rule    a phrase fills whole bars. Its last note falls on a beat, is held as long as air and bar allow, and leaves real time to breathe before
        the next bar line, so the click never loses its place. A line too long for the air is cut at a musical
        place (a turn, else the tonic, else a cell), and the note on which it stops is taken again after the
        breath. Notes that do not fill a last rhythm cell share its length evenly: the line broadens into its end.
Units   onsets within a phrase in Beats from its bar line; air and rest in Seconds.
Source  breath marks at cuts with the note retaken, a broadened ending: common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate
from typing import TYPE_CHECKING

from droner.practice.cut import cut
from droner.theory.tempo import lasting
from droner.units import Beats, Seconds

if TYPE_CHECKING:
    from droner.practice.line import LaidNote, Line
    from droner.practice.pattern import Rhythm
    from droner.theory.meter import Meter

REST_AFTER_PHRASE = Seconds(1)
"""Least time to breathe where the air ran out. Common practice, no source."""
REST_AFTER_CELL = Seconds(3, 5)
"""Least time between short patterns that hardly used the air. Common practice, no source."""
LONG_PHRASE = Seconds(5)
LEAST_HOLD = 1
"""Felt beats for which the last note of a phrase is held at least."""


@dataclass(frozen=True, slots=True)
class TimedNote:
    """One note of a phrase: where it falls, how long it is written, and its place in the rhythm cell."""

    onset: Beats
    length: Beats
    laid: LaidNote
    group: int
    place: int
    size: int


@dataclass(frozen=True, slots=True)
class Phrase:
    """Notes between two breaths. `length` is whole bars; the last `rest` of it is for breathing."""

    notes: tuple[TimedNote, ...]
    length: Beats
    rest: Beats


@dataclass(frozen=True, slots=True)
class Pace:
    """What a line is timed by. `rhythm` None: the drill's own lengths."""

    meter: Meter
    quarter_us: int
    air: Seconds
    rhythm: Rhythm | None


Slots = tuple[tuple[Beats, Beats, int, int, int], ...]


def phrases(line: Line, pace: Pace, breath_cells: int) -> tuple[Phrase, ...]:
    """The line in phrases. `breath_cells`: a breath after so many cells; 0: where the air needs it."""
    if line.notes[0].at is not None:
        marked = _by_breath_mark(line.notes)
        return tuple(_study_phrase(notes, pace) for long in marked for notes in _within_air(long, pace))
    if breath_cells:
        chunks = _by_cells(line.notes, breath_cells)
    else:
        most = _most_notes(pace) if pace.rhythm else _most_written(line.notes, pace)
        size = len(pace.rhythm.lengths) if pace.rhythm else 1
        chunks = cut(line.notes, most, size, line.home)
    return tuple(_phrase(notes, pace) for notes in chunks)


def _phrase(notes: tuple[LaidNote, ...], pace: Pace) -> Phrase:
    if pace.rhythm and notes[0].length is None:
        slots = rhythm_slots(len(notes), pace)
    else:
        slots = _written_slots(tuple(note.length or pace.meter.beat for note in notes))
    sounding = slots[-1][0] + slots[-1][1]
    rest = _rest(sounding, pace)
    bars = -(-(sounding + rest).exact // pace.meter.bar.exact)
    length = pace.meter.bar * int(bars)
    if pace.rhythm and notes[0].length is None:
        held = _held(slots[-1][0], length - rest, pace)
        slots = (*slots[:-1], (slots[-1][0], held, *slots[-1][2:]))
        sounding = slots[-1][0] + held
    timed = tuple(
        TimedNote(onset, long, note, group, place, size)
        for note, (onset, long, group, place, size) in zip(notes, slots, strict=True)
    )
    return Phrase(timed, length, length - sounding)


def _held(onset: Beats, until: Beats, pace: Pace) -> Beats:
    """How long the last note is held: to the rest, or as many whole beats as the air allows; at least one."""
    beat, room = pace.meter.beat, until - onset
    left = pace.air - lasting(onset, pace.quarter_us)
    beats = int(left.ratio(lasting(beat, pace.quarter_us)))
    return min(room, beat * max(beats, LEAST_HOLD))


def _rest(sounding: Beats, pace: Pace) -> Beats:
    """Time to breathe after a phrase, in whole felt beats."""
    tired = lasting(sounding, pace.quarter_us) >= LONG_PHRASE
    least = REST_AFTER_PHRASE if tired else REST_AFTER_CELL
    beat_lasts = lasting(pace.meter.beat, pace.quarter_us)
    return pace.meter.beat * int(-(-least.exact // beat_lasts.exact))


@lru_cache(maxsize=8192)
def _slots(count: int, lengths: tuple[Beats, ...], beat: Beats) -> Slots:
    """Onset, length, group, place in group and group size of each note; the last one held on a beat."""
    size, group_length = len(lengths), sum(lengths, Beats(0))
    starts = tuple(accumulate(lengths[:-1], initial=Beats(0)))
    full, left = divmod(count - 1, size)
    slots = [
        (group_length * group + starts[place], lengths[place], group, place, size)
        for group in range(full)
        for place in range(size)
    ]
    if left:
        share = group_length / left
        slots += [(group_length * full + share * at, share, full, at, left) for at in range(left)]
    groups = full + bool(left)
    return (*slots, (group_length * groups, beat * LEAST_HOLD, groups, 0, 1))


def rhythm_slots(count: int, pace: Pace) -> Slots:
    """Where `count` notes of a phrase fall in the pace's rhythm."""
    assert pace.rhythm is not None, "only a rhythm gives slots"  # noqa: S101 - the callers have looked
    return _slots(count, pace.rhythm.lengths, pace.meter.beat)


def _written_slots(lengths: tuple[Beats, ...]) -> Slots:
    onsets = accumulate(lengths[:-1], initial=Beats(0))
    return tuple(
        (onset, length, 0, place, len(lengths))
        for place, (onset, length) in enumerate(zip(onsets, lengths, strict=True))
    )


def _most_notes(pace: Pace) -> int:
    """How many notes of this rhythm one breath carries, the held last note included; at least two cells' worth."""
    assert pace.rhythm is not None, "only a rhythm is measured"  # noqa: S101 - the caller has looked
    size = len(pace.rhythm.lengths)
    cell = lasting(sum(pace.rhythm.lengths, Beats(0)), pace.quarter_us)
    spare = pace.air - lasting(pace.meter.beat * LEAST_HOLD, pace.quarter_us)
    return max(int(spare.ratio(cell)), 1) * size + 1


def _most_written(notes: tuple[LaidNote, ...], pace: Pace) -> int:
    """How many notes of the drill's own lengths one breath carries, by the longest of them."""
    longest = max(lasting(note.length or pace.meter.beat, pace.quarter_us) for note in notes)
    return max(int(pace.air.ratio(longest)), 2)


def _by_cells(notes: tuple[LaidNote, ...], cells: int) -> list[tuple[LaidNote, ...]]:
    starts = [place for place, note in enumerate(notes) if note.opens and note.cell % cells == 0]
    return [notes[start:stop] for start, stop in zip(starts, [*starts[1:], len(notes)], strict=True)]


def _by_breath_mark(notes: tuple[LaidNote, ...]) -> list[tuple[LaidNote, ...]]:
    ends = [place + 1 for place, note in enumerate(notes) if note.breathes]
    ends = ends if ends and ends[-1] == len(notes) else [*ends, len(notes)]
    return [notes[start:stop] for start, stop in zip([0, *ends[:-1]], ends, strict=True)]


def _within_air(notes: tuple[LaidNote, ...], pace: Pace) -> list[tuple[LaidNote, ...]]:
    """A study's phrase, halved at a bar line as often as a slow tempo asks."""
    sounding = sum((note.length or pace.meter.beat for note in notes), Beats(0))
    bar_lines = [place for place, note in enumerate(notes) if note.opens and place]
    if lasting(sounding, pace.quarter_us) <= pace.air or not bar_lines:
        return [notes]
    middle = min(bar_lines, key=lambda place: abs(2 * place - len(notes)))
    return [*_within_air(notes[:middle], pace), *_within_air(notes[middle:], pace)]


def _study_phrase(notes: tuple[LaidNote, ...], pace: Pace) -> Phrase:
    """A phrase of a study, as written; the breath is taken out of its last note, never out of the time."""
    bar = pace.meter.bar
    first, last = notes[0], notes[-1]
    assert first.at is not None, "a study writes where its notes fall"  # noqa: S101 - by construction
    starts = bar * int(first.at.exact // bar.exact)
    timed = []
    for place, note in enumerate(notes):
        assert note.at is not None, "a study writes where its notes fall"  # noqa: S101 - by construction
        assert note.length is not None, "and how long they are"  # noqa: S101 - by construction
        timed.append(TimedNote(note.at - starts, note.length, note, 0, place, len(notes)))
    end = timed[-1].onset + timed[-1].length
    length = bar * int(-(-end.exact // bar.exact))
    if end == length:
        end -= min(last.length or bar, pace.meter.beat) / 2
        final = timed[-1]
        timed[-1] = TimedNote(final.onset, end - final.onset, final.laid, 0, final.place, final.size)
    return Phrase(tuple(timed), length, length - end)
