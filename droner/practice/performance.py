"""Place an item's phrases in time: lead-in, count-in, phrases, once for each speed.

Rule    an item leads in with its drone alone, for whole beats that last as long as asked at least: time to hear the
        tonic and to read on. Each repeat has its own count-in at its own tempo, and its own breaths, since slow
        playing needs more of them; a portion is a number of phrases at the first of its speeds, and the same notes
        at the others. A glide changes the tempo within each repeat, a stair a felt beat. The plan's minutes and the
        score are both computed from this, so they cannot disagree.
Units   beats from the start of the item; tempos in whole microseconds a quarter.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING

from droner.practice.layout.line import Line
from droner.practice.phrase import phrases
from droner.practice.shape import Pace
from droner.theory.tempo import glide, lasting, us_per_quarter
from droner.units import Beats, Seconds

if TYPE_CHECKING:
    from droner.practice.layout.line import LaidNote
    from droner.practice.pattern import Rhythm
    from droner.practice.phrase import Phrase
    from droner.theory.meter import Meter

WHOLE = Fraction(100)
NO_LEAD_IN = Seconds(0)


@dataclass(frozen=True, slots=True)
class PlacedPhrase:
    """A phrase and the moment of its first bar line."""

    onset: Beats
    phrase: Phrase


@dataclass(frozen=True, slots=True)
class Repeat:
    """One time through: its lead-in and count-in, its phrases, its speed in per cent of the item's tempo."""

    onset: Beats
    lead_in: Beats
    count_in: Beats
    speed: Fraction
    phrases: tuple[PlacedPhrase, ...]

    @property
    def counted(self) -> Beats:
        """The moment of its first count."""
        return self.onset + self.lead_in


@dataclass(frozen=True, slots=True)
class Performance:
    """All repeats on one line of beats, with the tempos they go at."""

    repeats: tuple[Repeat, ...]
    tempos: tuple[tuple[Beats, int], ...]
    length: Beats
    duration: Seconds


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """How an item runs: meter, tempo, speeds, glide, lead-in, count-in bars, air, and how it is phrased."""

    meter: Meter
    bpm: Fraction
    rhythm: Rhythm | None
    breath_cells: int
    air: Seconds
    speeds: tuple[Fraction, ...] = (WHOLE,)
    glide: tuple[Fraction, Fraction] | None = None
    count_in_bars: int = 1
    lead_in: Seconds = NO_LEAD_IN
    """How long the drone sounds alone before the first count, at least."""
    portion: tuple[int, int] | None = None
    """First phrase and number of phrases, round and round; None for all."""

    def quarter_us(self, per_cent: Fraction) -> int:
        """Microseconds a quarter at a percentage of the tempo."""
        return _quarter_us(self.bpm, per_cent, self.meter.beat)

    def ends(self, speed: Fraction) -> tuple[int, int]:
        """Microseconds a quarter at the start and the end of a repeat."""
        if self.glide is None:
            return (self.quarter_us(speed),) * 2
        return self.quarter_us(speed * self.glide[0] / WHOLE), self.quarter_us(speed * self.glide[1] / WHOLE)

    def pace(self, speed: Fraction) -> Pace:
        """What a repeat's phrases are timed by: its slowest tempo."""
        return _pace(self, speed)


@lru_cache(maxsize=1024)
def _pace(course: Course, speed: Fraction) -> Pace:
    return Pace(course.meter, max(course.ends(speed)), course.air, course.rhythm)


@lru_cache(maxsize=1024)
def _quarter_us(bpm: Fraction, per_cent: Fraction, beat: Beats) -> int:
    return us_per_quarter(bpm * per_cent / WHOLE, beat)


def perform(line: Line, course: Course) -> Performance:
    """The line in time, once for each speed."""
    repeats: list[Repeat] = []
    tempos: list[tuple[Beats, int]] = []
    onset = Beats(0)
    lines = (line,) if course.portion is None else _portion(line, course, *course.portion)
    for speed in course.speeds:
        repeat, stairs, onset = _repeat(lines, course, speed, onset)
        repeats.append(repeat)
        tempos += stairs
    return Performance(tuple(repeats), tuple(tempos), onset, _duration(tempos, onset))


def _repeat(
    lines: tuple[Line, ...], course: Course, speed: Fraction, onset: Beats
) -> tuple[Repeat, list[tuple[Beats, int]], Beats]:
    first_us, last_us = course.ends(speed)
    lead_in = Beats(0) if onset else _whole_beats(course.lead_in, course.meter.beat, first_us)
    count_in = course.meter.bar * course.count_in_bars
    before = lead_in + count_in
    whole = tuple(phrase for line in lines for phrase in phrases(line, course.pace(speed), course.breath_cells))
    placed, end = _placed(whole, onset + before)
    tempos = [(onset, first_us)] if before or first_us == last_us else []
    if first_us != last_us:
        tempos += glide(onset + before, end - onset - before, first_us, last_us, course.meter.beat)
    return Repeat(onset, lead_in, count_in, speed, placed), tempos, end


def _whole_beats(least: Seconds, beat: Beats, quarter_us: int) -> Beats:
    """As many beats as last so long."""
    return beat * int(-(-least.exact // lasting(beat, quarter_us).exact))


def _portion(line: Line, course: Course, first: int, count: int) -> tuple[Line, ...]:
    """The notes of so many phrases, in two lines where they go round from the last phrase to the first."""
    whole = phrases(line, course.pace(course.speeds[0]), course.breath_cells)
    spans = (whole[first : first + count], whole[: max(first + count - len(whole), 0)])
    return tuple(Line(_notes(span), line.home) for span in spans if span)


def _notes(span: tuple[Phrase, ...]) -> tuple[LaidNote, ...]:
    """The notes of some phrases; one on which a phrase stops and the next starts counts once."""
    notes: list[LaidNote] = []
    for phrase in span:
        notes += phrase.laid[1:] if notes and phrase.laid[0] is notes[-1] else phrase.laid
    return tuple(notes)


def _placed(whole: tuple[Phrase, ...], onset: Beats) -> tuple[tuple[PlacedPhrase, ...], Beats]:
    placed = []
    for phrase in whole:
        placed.append(PlacedPhrase(onset, phrase))
        onset += phrase.length
    return tuple(placed), onset


def _duration(tempos: list[tuple[Beats, int]], end: Beats) -> Seconds:
    stops = [*(onset for onset, _ in tempos[1:]), end]
    spans = (lasting(stop - onset, quarter_us) for (onset, quarter_us), stop in zip(tempos, stops, strict=True))
    return sum(spans, Seconds(0))
