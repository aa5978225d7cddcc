"""Count the clicks of a click without end, and go over to another tempo, meter or pattern while it sounds.

Rule    the clicks are those of `click_score`. A new tempo alone is taken up at the next forty-eighth of a quarter: the
        beat goes on from where it stands, so the click keeps its phase. A new meter or pattern begins at the next bar
        line, its tempo with it. Memory does not grow: old bars and tempos are let go.
Units   beats are quarter notes, from the first click's bar line; bpm counts the meter's beat.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import ceil
from random import Random
from threading import Lock
from typing import TYPE_CHECKING

from droner.score.clicks import bar_clicks, heard_in_bar
from droner.score.score import Click
from droner.score.tempo_map import Segment, TempoMap, tempo_map
from droner.theory.tempo import us_per_quarter
from droner.units import Beats

if TYPE_CHECKING:
    from fractions import Fraction

    from droner.practice.pattern import ClickPattern
    from droner.theory.meter import Meter

FINEST = Beats(1, 48)
"""A tempo changes on whole parts of a quarter, so that its fractions stay small."""
BARS_KEPT = 256
TEMPOS_KEPT = 64
START = Beats(0)


class Bars:
    """The clicks of one meter and pattern, bar by bar, counted from 0; dropped clicks are drawn in order."""

    def __init__(self, meter: Meter, pattern: ClickPattern, seed: int) -> None:
        self.meter, self.pattern, self.seed = meter, pattern, seed
        self._lock = Lock()
        self._start_anew()

    def bar(self, number: int) -> tuple[Click, ...]:
        """The clicks of a bar, from its bar line."""
        with self._lock:
            if number < self._next and number not in self._kept:
                self._start_anew()
            while self._next <= number:
                written = bar_clicks(self.meter, self.pattern, START)
                self._kept[self._next] = tuple(heard_in_bar(self.pattern, self._next, written, self._draw))
                self._kept.pop(self._next - BARS_KEPT, None)
                self._next += 1
            return self._kept[number]

    def is_like(self, other: Bars) -> bool:
        """Whether the other has the same meter and pattern."""
        return (self.meter, self.pattern) == (other.meter, other.pattern)

    def _start_anew(self) -> None:
        self._kept: dict[int, tuple[Click, ...]] = {}
        self._draw, self._next = Random(f"{self.seed}"), 0


@dataclass(frozen=True, slots=True, eq=False)
class Stretch:
    """From a bar line on: the bars, and the gain of their clicks."""

    onset: Beats
    bars: Bars
    gain: float = 1.0

    def clicks(self, first: Beats, last: Beats) -> Iterator[Click]:
        """The clicks from one moment to another, some more perhaps before and after."""
        for number in range(max(self.bar_number(first), 0), self.bar_number(last) + 1):
            yield from self.bar(number)

    def bar(self, number: int) -> Iterator[Click]:
        """The clicks of a bar, counted from 0."""
        bar_line = self.onset + self.bars.meter.bar * number
        for click in self.bars.bar(number):
            yield Click(bar_line + click.onset, click.kind, click.gain * self.gain)

    def bar_number(self, moment: Beats) -> int:
        """The bar in which a moment falls, counted from 0."""
        return int((moment - self.onset).ratio(self.bars.meter.bar) // 1)

    def next_bar_line(self, moment: Beats) -> Beats:
        """The first bar line at a moment or after it."""
        length = self.bars.meter.bar
        return self.onset + length * ceil((moment - self.onset).ratio(length))


@dataclass(frozen=True, slots=True, eq=False)
class ClickCourse:
    """A click that was changed last at `since`: what clicks now, what clicked before, and the tempos."""

    tempos: TempoMap
    now: Stretch
    then: Stretch | None = None
    since: Beats = START

    def clicks(self, first: Beats, last: Beats) -> Iterator[Click]:
        """The clicks from one moment to another, some more perhaps before and after."""
        if self.then is not None and first < self.now.onset:
            yield from (click for click in self.then.clicks(first, last) if click.onset < self.now.onset)
        yield from self.now.clicks(first, last)

    def bars_after(self, moment: Beats) -> Iterator[tuple[Beats, list[Click]]]:
        """Every bar from that of a moment on, without end: its bar line, and those of its clicks after the moment."""
        stretch = self.stretch_at(moment)
        number = max(stretch.bar_number(moment), 0)
        while True:
            bar_line = stretch.onset + stretch.bars.meter.bar * number
            if stretch is self.then and bar_line >= self.now.onset:
                stretch, number, bar_line = self.now, 0, self.now.onset
            yield bar_line, [click for click in stretch.bar(number) if click.onset > moment]
            number += 1

    def bar_at(self, moment: Beats) -> tuple[int, int]:
        """The bar of this meter, from 1, and the beat in it."""
        stretch = self.stretch_at(moment)
        meter, number = stretch.bars.meter, stretch.bar_number(moment)
        return number + 1, int((moment - stretch.onset - meter.bar * number).ratio(meter.beat)) + 1

    def stretch_at(self, moment: Beats) -> Stretch:
        """The stretch in which a moment falls."""
        return self.now if self.then is None or moment >= self.now.onset else self.then

    def after(self, sounding: ClickCourse, moment: Beats) -> ClickCourse:
        """This click, coming in at a moment of one that sounds, or as soon after as its bars allow.

        Before `since` it is the same as what sounds.
        """
        same, goes_on = sounding.now.bars.is_like(self.now.bars), sounding.stretch_at(moment)
        since = FINEST * ceil(moment.ratio(FINEST)) if same else goes_on.next_bar_line(moment)
        tempos = _with_tempo(sounding.tempos, since, self.tempos.segments[0].quarter_us)
        if same:
            return ClickCourse(tempos, sounding.now, sounding.then, since)
        return ClickCourse(tempos, replace(self.now, onset=since), goes_on, since)


def click_course(meter: Meter, pattern: ClickPattern, bpm: Fraction, seed: int, gain: float = 1.0) -> ClickCourse:
    """A click pattern at a tempo, without end. ValueError for a tempo that does not fit a MIDI file."""
    tempos = tempo_map([(START, us_per_quarter(bpm, meter.beat))])
    return ClickCourse(tempos, Stretch(START, Bars(meter, pattern, seed), gain))


def _with_tempo(tempos: TempoMap, onset: Beats, quarter_us: int) -> TempoMap:
    """The tempos up to a moment, and another from there on."""
    kept = [segment for segment in tempos.segments if segment.onset < onset][-TEMPOS_KEPT:]
    return TempoMap((*kept, Segment(onset, tempos.seconds_at(onset), quarter_us)))
