"""Play the solo, for the player to hear how it goes.

Rule    pitch is still inside a note; articulation is loudness. A slur has no gap, no dip and no new start: the old tone
        gives way while the new one takes over, and both are in step half way. The start of every tone is made once, and
        notes are cut out of it.
Units   frames; amplitudes at full scale 1.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise

import numpy as np

from droner.score.score import Score
from droner.sound.additive import Sounding, amplitudes, audible, in_phase, steady_sum
from droner.sound.fade import FADE_ALONE, fade_in, fade_out, shape_ends
from droner.sound.guide_level import beat_at, highest_level, is_moving, level_along, steady_level
from droner.sound.guide_line import GuideLine
from droner.sound.guide_table import GUIDE_LEVEL_DB
from droner.sound.levels import factor
from droner.sound.peak import peak
from droner.sound.spans import Spans
from droner.sound.timbre_table import GUIDE_PARTIALS_DB
from droner.sound.timeline import Timeline
from droner.sound.tone_power import LONG_NOTE_SECONDS, Stretch
from droner.sound.voice import Amounts, Peaks, Samples

MOVING_PARTS = 48
"""Stretches of a note whose loudness moves: pulses of a measured vibrato are several stretches each."""
KEPT_FRAMES, TONES_KEPT = 49_152, 48
"""Of so many tones the first second is kept: 9 MB at most. What lasts longer is made when it is wanted."""


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
            place = line.places[number] + first - onset
            samples = self._tone(number, place, last - first) * self._level(number, first - onset, last - first)
            rising, falling = fade_in(line.rise(number)), fade_out(line.fall(number))
            shape_ends(samples, first - onset, end - onset, rising, falling)
            bus[first - start : last - start] += samples

    def _tone(self, number: int, place: int, frames: int) -> Samples:
        """So many frames of a note's tone at full level."""
        hz, rate_hz = self._line.notes[number].hz, self._line.timeline.rate_hz
        if place + frames <= KEPT_FRAMES:
            return _kept(hz, self._partials, rate_hz)[place : place + frames]
        return steady_sum((self._sounding(hz),), rate_hz, place, frames)

    def _sounding(self, hz: float, turns: float = 0.0) -> Sounding:
        return in_phase(hz, audible(self._partials, hz, self._line.timeline.rate_hz), turns)

    def _level(self, number: int, first: int, frames: int) -> Samples | np.float32:
        """How loud a note is from its frame `first` on, its start and its end apart."""
        note = self._line.notes[number]
        if not is_moving(note):
            return np.float32(steady_level(note))
        return self._moving_level(number, np.arange(first, first + frames, dtype=np.float64)).astype(np.float32)

    def _moving_level(self, number: int, frames: Amounts) -> Amounts:
        note = self._line.notes[number]
        return level_along(note, beat_at(self._line.bars, note.onset), self._line.timeline, frames)

    def stretches(self) -> Iterator[Stretch]:
        """Every note in stretches of steady loudness."""
        line, rate_hz = self._line, self._line.timeline.rate_hz
        for number, note in enumerate(line.notes):
            start = int(line.starts[number])
            sounding = self._sounding(note.hz, (line.places[number] - start) * note.hz / rate_hz % 1.0)
            first = start + (1 - FADE_ALONE) * line.rise(number)
            last = int(line.stops[number] + line.tails[number]) - (1 - FADE_ALONE) * line.fall(number)
            lasts = last - first > LONG_NOTE_SECONDS * rate_hz
            if not is_moving(note):
                yield Stretch(first, last, steady_level(note) ** 2, sounding, lasts)
                continue
            edges = np.linspace(first, last, MOVING_PARTS + 1)
            levels = self._moving_level(number, (edges[:-1] + edges[1:]) / 2 - start)
            for span, level in zip(pairwise(edges), levels, strict=True):
                yield Stretch(*span, float(level) ** 2, sounding, lasts)

    def peaks(self) -> Peaks:
        """Every note at its loudest, or as loud as the note it is slurred from."""
        wave = max(peak((in_phase(1.0, self._partials[:kept], 0.0),)) for kept in range(1, len(self._partials) + 1))
        notes, slurred = self._line.notes, self._line.slurred
        levels = np.fromiter((highest_level(note) for note in notes), np.float64, len(notes)) * wave
        levels[1:] = np.where(slurred[1:], np.maximum(levels[1:], levels[:-1]), levels[1:])
        return Peaks(self._line.starts, self._line.stops, levels)


@lru_cache(maxsize=TONES_KEPT)
def _kept(hz: float, partials: tuple[float, ...], rate_hz: int) -> Samples:
    """The start of a tone."""
    made = steady_sum((in_phase(hz, audible(partials, hz, rate_hz), 0.0),), rate_hz, 0, KEPT_FRAMES)
    made.flags.writeable = False
    return made
