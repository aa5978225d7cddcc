"""Play the solo, for the player to hear how it goes.

Rule    pitch is still inside a note; articulation is loudness. A slur has no gap, no dip and no new start.
Units   frames; amplitudes at full scale 1.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from droner.score.score import Score
from droner.sound.additive import amplitudes, audible, in_phase, steady_sum
from droner.sound.fade import FADE_ALONE, fade_in, fade_out, shape_ends
from droner.sound.guide_level import beat_at, highest_level, is_moving, level_along, steady_level
from droner.sound.guide_line import GuideLine
from droner.sound.guide_table import GUIDE_LEVEL_DB
from droner.sound.levels import factor
from droner.sound.peak import peak
from droner.sound.spans import Spans
from droner.sound.timbre_table import GUIDE_PARTIALS_DB
from droner.sound.timeline import Timeline
from droner.sound.tone_power import Stretch
from droner.sound.voice import Amounts, Peaks, Samples

_NOTHING = fade_in(0)
MOVING_PARTS = 48
"""Stretches of a note whose loudness moves: pulses of a measured vibrato are several stretches each."""


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
            samples = self._wave(number, first - onset, last - onset)
            self._make_as_loud(samples, number, first - onset)
            bus[first - start : last - start] += samples

    def _wave(self, number: int, first: int, last: int) -> Samples:
        """A note's frames from `first` to `last` at full loudness: its glide, then the tone it settles on."""
        glide = self._line.glide(number)
        partials = audible(self._partials, max(glide.hz, glide.from_hz), glide.rate_hz)
        settled = in_phase(glide.hz, partials, glide.settled_turns)
        if first >= glide.frames:
            return steady_sum((settled,), glide.rate_hz, first, last - first)
        gliding = glide.turns_gliding(np.arange(first, min(last, glide.frames), dtype=np.float64))
        left = max(last - glide.frames, 0)
        return np.concatenate((_summed(gliding, partials), steady_sum((settled,), glide.rate_hz, glide.frames, left)))

    def _make_as_loud(self, samples: Samples, number: int, first: int) -> None:
        """Give samples from a note's frame `first` on their loudness."""
        line, note = self._line, self._line.notes[number]
        level: Amounts | float = steady_level(note)
        if is_moving(note):
            level = self._moving_level(number, np.arange(first, first + len(samples), dtype=np.float64))
        over = fade_in(line.glide_frames(number))[first:][: len(samples)] if line.slurred[number] else _NOTHING
        if len(over):
            left, lead = self._level_at_end(number - 1), np.full(len(samples), level)
            lead[: len(over)] = left + (lead[: len(over)] - left) * over
            level = lead
        samples *= level.astype(np.float32) if isinstance(level, np.ndarray) else np.float32(level)
        rising, falling = fade_in(line.rise(number)), fade_out(line.fall(number))
        shape_ends(samples, first, line.length(number), rising, falling)

    def _moving_level(self, number: int, frames: Amounts) -> Amounts:
        note = self._line.notes[number]
        return level_along(note, beat_at(self._line.bars, note.onset), self._line.timeline, frames)

    def _level_at_end(self, number: int) -> float:
        """How loud a note is in its last moment."""
        note = self._line.notes[number]
        if not is_moving(note):
            return steady_level(note)
        return float(self._moving_level(number, np.array([float(self._line.length(number))]))[0])

    def stretches(self) -> Iterator[Stretch]:
        """Every note in stretches of steady loudness: first and last frame, mean square of its level, its tone."""
        line, rate_hz = self._line, self._line.timeline.rate_hz
        for number, note in enumerate(line.notes):
            glide, start = line.glide(number), int(line.starts[number])
            partials = audible(self._partials, max(glide.hz, glide.from_hz), rate_hz)
            sounding = in_phase(glide.hz, partials, (glide.settled_turns - glide.hz * start / rate_hz) % 1.0)
            first = start + (1 - FADE_ALONE) * line.rise(number)
            last = int(line.stops[number]) - (1 - FADE_ALONE) * line.fall(number)
            if not is_moving(note):
                yield first, last, steady_level(note) ** 2, sounding
                continue
            edges = np.linspace(first, last, MOVING_PARTS + 1)
            levels = self._moving_level(number, (edges[:-1] + edges[1:]) / 2 - start)
            yield from (
                (*span, float(level) ** 2, sounding) for span, level in zip(pairwise(edges), levels, strict=True)
            )

    def peaks(self) -> Peaks:
        """Every note at its loudest, or as loud as the note it is slurred from."""
        wave = max(peak((in_phase(1.0, self._partials[:kept], 0.0),)) for kept in range(1, len(self._partials) + 1))
        notes, slurred = self._line.notes, self._line.slurred
        levels = np.fromiter((highest_level(note) for note in notes), np.float64, len(notes)) * wave
        levels[1:] = np.where(slurred[1:], np.maximum(levels[1:], levels[:-1]), levels[1:])
        return Peaks(self._line.starts, self._line.stops, levels)


def _summed(turns: Amounts, partials: tuple[float, ...]) -> Samples:
    """The sum of the partials at these phases: sin x times a polynomial in cos x, by Clenshaw's rule."""
    angle = ((turns - np.floor(turns)) * (2 * np.pi)).astype(np.float32)
    twice_cosine = 2 * np.cos(angle)
    above, here = np.zeros_like(angle), np.zeros_like(angle)
    for part in reversed(partials):
        above, here = here, twice_cosine * here - above + np.float32(part)
    return here * np.sin(angle)
