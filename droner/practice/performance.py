"""Place an item's phrases in time: count-in, phrases, once for each speed.

Rule    each repeat has its own count-in at its own tempo, and its own breaths, since slow playing needs more of
        them. A glide changes the tempo within each repeat, a stair a felt beat. The plan's minutes and the score
        are both computed from this, so they cannot disagree.
Units   beats from the start of the item; tempos in whole microseconds a quarter.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from droner.practice.phrase import Pace, phrases
from droner.theory.tempo import glide, lasting, us_per_quarter
from droner.units import Beats, Seconds

if TYPE_CHECKING:
    from droner.practice.line import Line
    from droner.practice.pattern import Rhythm
    from droner.practice.phrase import Phrase
    from droner.theory.meter import Meter

WHOLE = Fraction(100)


@dataclass(frozen=True, slots=True)
class PlacedPhrase:
    """A phrase and the moment of its first bar line."""

    onset: Beats
    phrase: Phrase


@dataclass(frozen=True, slots=True)
class Repeat:
    """One time through: its count-in, its phrases, its speed in per cent of the item's tempo."""

    onset: Beats
    count_in: Beats
    speed: Fraction
    phrases: tuple[PlacedPhrase, ...]


@dataclass(frozen=True, slots=True)
class Performance:
    """All repeats on one line of beats, with the tempos they go at."""

    repeats: tuple[Repeat, ...]
    tempos: tuple[tuple[Beats, int], ...]
    length: Beats
    duration: Seconds


@dataclass(frozen=True, slots=True)
class Course:
    """How an item runs: meter, tempo, speeds, glide, count-in bars, air, and how it is phrased."""

    meter: Meter
    bpm: Fraction
    rhythm: Rhythm | None
    breath_cells: int
    air: Seconds
    speeds: tuple[Fraction, ...] = (WHOLE,)
    glide: tuple[Fraction, Fraction] | None = None
    count_in_bars: int = 1
    portion: tuple[int, int] | None = None
    """First phrase and number of phrases, None for all."""

    def quarter_us(self, per_cent: Fraction) -> int:
        """Microseconds a quarter at a percentage of the tempo."""
        return us_per_quarter(self.bpm * per_cent / WHOLE, self.meter.beat)


def perform(line: Line, course: Course) -> Performance:
    """The line in time, once for each speed."""
    repeats: list[Repeat] = []
    tempos: list[tuple[Beats, int]] = []
    onset = Beats(0)
    for speed in course.speeds:
        repeat, stairs, onset = _repeat(line, course, speed, onset)
        repeats.append(repeat)
        tempos += stairs
    return Performance(tuple(repeats), tuple(tempos), onset, _duration(tempos, onset))


def _repeat(line: Line, course: Course, speed: Fraction, onset: Beats) -> tuple[Repeat, list[tuple[Beats, int]], Beats]:
    start, stop = course.glide or (WHOLE, WHOLE)
    first_us, last_us = course.quarter_us(speed * start / WHOLE), course.quarter_us(speed * stop / WHOLE)
    pace = Pace(course.meter, max(first_us, last_us), course.air, course.rhythm)
    count_in = course.meter.bar * course.count_in_bars
    placed, end = _placed(_portion(phrases(line, pace, course.breath_cells), course), onset + count_in)
    tempos = [(onset, first_us)] if count_in or first_us == last_us else []
    if first_us != last_us:
        tempos += glide(onset + count_in, end - onset - count_in, first_us, last_us, course.meter.beat)
    return Repeat(onset, count_in, speed, placed), tempos, end


def _portion(whole: tuple[Phrase, ...], course: Course) -> tuple[Phrase, ...]:
    if course.portion is None:
        return whole
    start, count = course.portion
    return whole[start : start + count]


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
