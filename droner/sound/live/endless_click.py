"""Click without end, and go over to another tempo, meter or pattern while it sounds.

Rule    the clicks are those of `click_score`, on the same frames and as loud. A new tempo alone is taken up at the next
        forty-eighth of a quarter: the beat goes on from where it stands, so the click keeps its phase. A new meter or
        pattern begins at the next bar line, its tempo with it. Memory does not grow: old bars and tempos are let go.
Units   frames from the first sample; beats are quarter notes; bpm counts the meter's beat.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil
from random import Random
from threading import Lock

import numpy as np

from droner.practice.pattern import ClickPattern
from droner.score.clicks import bar_clicks, heard_in_bar
from droner.score.plain import USUAL_SEED, click_score
from droner.score.score import Click
from droner.score.tempo_map import Segment, TempoMap, tempo_map
from droner.sound.click_table import LONGEST_CLICK_MS
from droner.sound.click_voice import ClickVoice
from droner.sound.desk import Desk
from droner.sound.levels import factor
from droner.sound.live.source import Source
from droner.sound.mix import Mix
from droner.sound.render import RATE_HZ
from droner.sound.timeline import Timeline
from droner.sound.voice import Samples
from droner.theory.meter import Meter
from droner.theory.tempo import us_per_quarter
from droner.units import Beats, Seconds, frame_at

FINEST = Beats(1, 48)
"""A tempo changes on whole parts of a quarter, so that its fractions stay small."""
WEIGHED_BARS = 8
"""So many bars are looked at for how high the clicks can rise."""
BARS_KEPT = 256
TEMPOS_KEPT = 64
USUAL_A4_HZ = 440.0
"""A click has no pitch; its score asks for one."""


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
                written = bar_clicks(self.meter, self.pattern, Beats(0))
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
    gain: float

    def clicks(self, first: Beats, last: Beats) -> Iterator[Click]:
        """The clicks from one moment to another, some more perhaps before and after."""
        length = self.bars.meter.bar
        for number in range(max(self.bar_number(first), 0), self.bar_number(last) + 1):
            for click in self.bars.bar(number):
                yield Click(self.onset + length * number + click.onset, click.kind, click.gain * self.gain)

    def bar_number(self, moment: Beats) -> int:
        """The bar in which a moment falls, counted from 0."""
        return int((moment - self.onset).ratio(self.bars.meter.bar) // 1)


@dataclass(frozen=True, slots=True, eq=False)
class EndlessClick:
    """A click that has been changed at `since`: what sounds now, what sounded before, and the tempos."""

    title: str
    rate_hz: int
    factors: tuple[float, ...]
    tempos: TempoMap
    now: Stretch
    then: Stretch | None = None
    since: int = 0

    @property
    def frames(self) -> None:
        """It has no end."""

    def block(self, start: int, frames: int) -> Samples:
        """So many frames from frame `start` on."""
        bus: Samples = np.zeros(frames, dtype=np.float32)
        longest = ceil(LONGEST_CLICK_MS * self.rate_hz / 1000)
        clicks = self._clicks(self.beats_at(max(start - longest, 0)), self.beats_at(start + frames))
        ClickVoice(clicks, Timeline(self.tempos, self.rate_hz), 1.0).add_to(bus, start)
        made: Samples = bus[:, np.newaxis] * np.array(self.factors, dtype=np.float32)
        return made

    def _clicks(self, first: Beats, last: Beats) -> Iterator[Click]:
        if self.then is not None and first < self.now.onset:
            yield from (click for click in self.then.clicks(first, last) if click.onset < self.now.onset)
        yield from self.now.clicks(first, last)

    def beats_at(self, frame: int) -> Beats:
        """The beat that falls on a frame."""
        return self.tempos.beats_at(Seconds(Fraction(frame, self.rate_hz)))

    def frame_at(self, moment: Beats) -> int:
        """The frame on which a beat falls."""
        return frame_at(self.tempos.seconds_at(moment), self.rate_hz)

    def bar_at(self, moment: Beats) -> tuple[int, int]:
        """The bar of this meter, from 1, and the beat in it."""
        stretch = self.stretch_at(moment)
        meter, number = stretch.bars.meter, stretch.bar_number(moment)
        return number + 1, int((moment - stretch.onset - meter.bar * number).ratio(meter.beat)) + 1

    def stretch_at(self, moment: Beats) -> Stretch:
        """The stretch in which a moment falls."""
        return self.now if self.then is None or moment >= self.now.onset else self.then

    def after(self, sounding: Source, at: int) -> EndlessClick | None:
        """This click, coming in at frame `at` of one that sounds, or as soon after as its bars allow.

        Before that frame it is the same as what sounds. None for what is no click, or stands in another place.
        """
        if not isinstance(sounding, EndlessClick) or sounding.factors != self.factors:
            return None
        moment = sounding.beats_at(at)
        same, goes_on = sounding.now.bars.is_like(self.now.bars), sounding.stretch_at(moment)
        onset = FINEST * ceil(moment.ratio(FINEST)) if same else _next_bar_line(goes_on, moment)
        tempos = _with_tempo(sounding.tempos, onset, self.tempos.segments[0].quarter_us)
        changed = replace(self, tempos=tempos, since=frame_at(tempos.seconds_at(onset), self.rate_hz))
        if same:
            return replace(changed, now=sounding.now, then=sounding.then)
        return replace(changed, now=replace(self.now, onset=onset), then=goes_on)


def endless_click(
    meter: Meter, pattern: ClickPattern, bpm: Fraction, mix: Mix, rate_hz: int = RATE_HZ, *, seed: int = USUAL_SEED
) -> EndlessClick:
    """A click pattern at a tempo, without end. ValueError for a tempo that does not fit a MIDI file."""
    gains = Desk(click_score(meter, pattern, bpm, WEIGHED_BARS, USUAL_A4_HZ, seed=seed), mix, rate_hz).gains
    stretch = Stretch(Beats(0), Bars(meter, pattern, seed), factor(mix.gain_db.click) * gains.whole * gains.clicks)
    tempos = tempo_map([(Beats(0), us_per_quarter(bpm, meter.beat))])
    title = f"click {meter}, {pattern.name}, {float(bpm):g}"
    return EndlessClick(title, rate_hz, mix.channel_factors(mix.pan.click), tempos, stretch)


def _next_bar_line(stretch: Stretch, moment: Beats) -> Beats:
    length = stretch.bars.meter.bar
    return stretch.onset + length * ceil((moment - stretch.onset).ratio(length))


def _with_tempo(tempos: TempoMap, onset: Beats, quarter_us: int) -> TempoMap:
    """The tempos up to a moment, and another from there on."""
    kept = [segment for segment in tempos.segments if segment.onset < onset][-TEMPOS_KEPT:]
    return TempoMap((*kept, Segment(onset, tempos.seconds_at(onset), quarter_us)))
