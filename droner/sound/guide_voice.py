"""Play the solo, for the player to hear how it goes.

Rule    pitch is still inside a note; articulation is loudness. A slur has no gap, no dip and no new start: the old tone
        gives way while the new one takes over, and both are in step half way. The start of every tone is made once, and
        notes are cut out of it.
Units   frames; amplitudes at full scale 1.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import isnan

import numpy as np

from droner.score.score import Score
from droner.sound.additive import Sounding, amplitudes, audible, in_phase, steady_sum
from droner.sound.fade import FADE_ALONE, fade_in, fade_out, shape_ends
from droner.sound.guide_level import beat_at, level_along
from droner.sound.guide_line import GuideLine
from droner.sound.guide_table import GUIDE_LEVEL_DB
from droner.sound.levels import factor
from droner.sound.peak import peak
from droner.sound.spans import Spans
from droner.sound.timbre_table import GUIDE_PARTIALS_DB
from droner.sound.timeline import Timeline
from droner.sound.tone_power import LONG_NOTE_SECONDS, Stretch
from droner.sound.tone_start import KEPT_FRAMES, tone_start
from droner.sound.voice import Amounts, Peaks, Samples

MOVING_PARTS = 48
"""Stretches of a note whose loudness moves: pulses of a measured vibrato are several stretches each."""


class GuideVoice:
    """The solo as one voice."""

    def __init__(self, score: Score, timeline: Timeline, gain_db: float) -> None:
        self._line = line = GuideLine(score.solo, score.bars, timeline)
        self._spans = Spans(line.starts, line.stops + line.tails)
        self._partials = amplitudes(GUIDE_PARTIALS_DB, factor(GUIDE_LEVEL_DB + gain_db))

    def add_to(self, bus: Samples, start: int) -> None:
        """Add every note that sounds from frame `start` on."""
        line, stop = self._line, start + len(bus)
        for number in self._spans.within(start, stop):
            onset = int(line.starts[number])
            end = int(line.stops[number] + line.tails[number])
            first, last = max(onset, start), min(end, stop)
            place, hz = int(line.places[number]) + first - onset, float(line.hz[line.sounds[number]])
            samples = self._tone(hz, place, last - first) * self._level(number, first - onset, last - first)
            rising, falling = fade_in(int(line.rises[number])), fade_out(int(line.falls[number]))
            shape_ends(samples, first - onset, end - onset, rising, falling)
            bus[first - start : last - start] += samples

    def _tone(self, hz: float, place: int, frames: int) -> Samples:
        """So many frames of a tone at full level."""
        rate_hz = self._line.timeline.rate_hz
        if place + frames <= KEPT_FRAMES:
            return tone_start(self._sounding(hz), rate_hz).frames(place, place + frames)
        return steady_sum((self._sounding(hz),), rate_hz, place, frames)

    def _sounding(self, hz: float, turns: float = 0.0) -> Sounding:
        return in_phase(hz, audible(self._partials, hz, self._line.timeline.rate_hz), turns)

    def _level(self, number: int, first: int, frames: int) -> Samples | np.float32:
        """How loud a note is from its frame `first` on, its start and its end apart."""
        sound = self._line.sounds[number]
        if not self._line.moving[sound]:
            return np.float32(self._line.steady[sound])
        return self._moving_level(number, np.arange(first, first + frames, dtype=np.float64)).astype(np.float32)

    def _moving_level(self, number: int, frames: Amounts) -> Amounts:
        note = self._line.note(number)
        return level_along(note, beat_at(self._line.bars, note.onset), self._line.timeline, frames)

    def stretches(self) -> Iterator[Stretch]:
        """Every note in stretches of steady loudness. Only of one that lasts does it matter how its partials stand."""
        line, rate_hz = self._line, self._line.timeline.rate_hz
        hertz = line.hz[line.sounds]
        firsts = line.starts + (1 - FADE_ALONE) * line.rises
        lasts = line.stops + line.tails - (1 - FADE_ALONE) * line.falls
        turns = np.where(
            lasts - firsts > LONG_NOTE_SECONDS * rate_hz, (line.places - line.starts) * hertz / rate_hz % 1.0, np.nan
        )
        for number in range(len(line)):
            first, last, turn, hz = (float(column[number]) for column in (firsts, lasts, turns, hertz))
            is_long = not isnan(turn)
            sounding = self._sounding(hz, turn if is_long else 0.0)
            if not line.moving[line.sounds[number]]:
                yield Stretch(first, last, float(line.steady[line.sounds[number]]) ** 2, sounding, is_long)
                continue
            edges = np.linspace(first, last, MOVING_PARTS + 1)
            levels = self._moving_level(number, (edges[:-1] + edges[1:]) / 2 - line.starts[number])
            for span, level in zip(pairwise(edges), levels, strict=True):
                yield Stretch(*span, float(level) ** 2, sounding, is_long)

    def peaks(self) -> Peaks:
        """Every note at its loudest, or as loud as the note it is slurred from."""
        wave = max(peak((in_phase(1.0, self._partials[:kept], 0.0),)) for kept in range(1, len(self._partials) + 1))
        levels, slurred = (self._line.highest * wave)[self._line.sounds], self._line.slurred
        levels[1:] = np.where(slurred[1:], np.maximum(levels[1:], levels[:-1]), levels[1:])
        return Peaks(self._line.starts, self._line.stops, levels).in_one_piece()
