"""Play the solo, for the player to hear how it goes.

Rule    pitch is still inside a note; articulation is loudness. A slur has no gap, no dip and no new start.
Units   frames; amplitudes at full scale 1.
"""

from __future__ import annotations

import numpy as np

from droner.score.score import Score
from droner.sound.additive import amplitudes, audible, peak
from droner.sound.fade import fade_in, fade_out, shape_ends
from droner.sound.guide_level import beat_at, highest_level, level_along
from droner.sound.guide_line import GuideLine
from droner.sound.guide_table import GUIDE_LEVEL_DB
from droner.sound.levels import factor
from droner.sound.spans import Spans
from droner.sound.timbre_table import GUIDE_PARTIALS_DB
from droner.sound.timeline import Timeline
from droner.sound.voice import Amounts, Peaks, Samples


class GuideVoice:
    """The solo as one voice."""

    def __init__(self, score: Score, timeline: Timeline, gain_db: float) -> None:
        self._line = GuideLine(score.solo, score.bars, timeline)
        self._spans = Spans(self._line.starts, self._line.stops)
        self._partials = amplitudes(GUIDE_PARTIALS_DB, factor(GUIDE_LEVEL_DB + gain_db))

    def add_to(self, bus: Samples, start: int) -> None:
        """Add every note that sounds from frame `start` on."""
        for number in self._spans.within(start, start + len(bus)):
            onset, end = int(self._line.starts[number]), int(self._line.stops[number])
            first, last = max(onset, start), min(end, start + len(bus))
            frames = np.arange(first - onset, last - onset, dtype=np.float64)
            bus[first - start : last - start] += self._wave(number, frames) * self._loudness(number, frames)

    def _wave(self, number: int, frames: Amounts) -> Samples:
        """The sum of the partials: sin x times a polynomial in cos x, by Clenshaw's rule."""
        glide = self._line.glide(number)
        highest_hz = max(glide.hz, glide.from_hz)
        partials = audible(self._partials, highest_hz, glide.rate_hz)
        turns = glide.turns_at(frames)
        angle = ((turns - np.floor(turns)) * (2 * np.pi)).astype(np.float32)
        twice_cosine = 2 * np.cos(angle)
        above, here = np.zeros_like(angle), np.zeros_like(angle)
        for part in reversed(partials):
            above, here = here, twice_cosine * here - above + np.float32(part)
        return here * np.sin(angle)

    def _loudness(self, number: int, frames: Amounts) -> Samples:
        line = self._line
        level = self._written_level(number, frames)
        first = int(frames[0])
        if line.slurred[number]:
            self._lead_over(number, level, first)
        rising, falling = fade_in(line.rise(number)), fade_out(line.fall(number))
        shape_ends(level, first, line.length(number), rising, falling)
        return level.astype(np.float32)

    def _written_level(self, number: int, frames: Amounts) -> Amounts:
        note = self._line.notes[number]
        return level_along(note, beat_at(self._line.bars, note.onset), self._line.timeline, frames)

    def _lead_over(self, number: int, level: Amounts, first: int) -> None:
        """Under a slur, lead the loudness over from the end of the note before, in the time of the glide."""
        over = fade_in(self._line.glide_frames(number))[first:][: len(level)]
        if len(over):
            end = np.array([float(self._line.length(number - 1))])
            left = self._written_level(number - 1, end)[0]
            level[: len(over)] = left + (level[: len(over)] - left) * over

    def peaks(self) -> Peaks:
        """Every note at its loudest, or as loud as the note it is slurred from."""
        wave = max(peak(self._partials[:kept]) for kept in range(1, len(self._partials) + 1))
        notes, slurred = self._line.notes, self._line.slurred
        levels = np.fromiter((highest_level(note) for note in notes), np.float64, len(notes)) * wave
        levels[1:] = np.where(slurred[1:], np.maximum(levels[1:], levels[:-1]), levels[1:])
        return Peaks(self._line.starts, self._line.stops, levels)
