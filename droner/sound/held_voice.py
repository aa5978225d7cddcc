"""Sound the drone and the changes: tones that are held, and nothing else.

Rule    a held tone does not move: no vibrato, no chorus, no second oscillator, no room, no loop. Fades happen
        only where a tone starts, ends or gives way.
Units   level_db: effective level of one tone below full scale; fades in milliseconds.
Source  levels and fades are our own choice: the reference stays below the player.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np

from droner.score.score import Score
from droner.sound.additive import amplitudes, audible, peak, steady_tone
from droner.sound.fade import fade_in, fade_out, shape_ends
from droner.sound.held import Held, held_tones
from droner.sound.levels import factor
from droner.sound.spans import Spans
from droner.sound.timbre_table import CHANGES_PARTIALS_DB, DRONE_PARTIALS_DB
from droner.sound.timeline import Timeline
from droner.sound.voice import Peaks, Samples, peaks_of

DRONE_LEVEL_DB = -22.0
DRONE_FADE_MS = 60.0
CHANGES_LEVEL_DB = -28.0
CHANGES_FADE_MS = 25.0


class HeldVoice:
    """A part made of held tones."""

    def __init__(self, held: Iterable[Held], partials: tuple[float, ...], rate_hz: int) -> None:
        self._held = sorted(held, key=lambda tone: tone.start)
        self._partials = partials
        self._rate_hz = rate_hz
        self._spans = Spans(
            np.array([tone.start for tone in self._held], dtype=np.int64),
            np.array([tone.stop for tone in self._held], dtype=np.int64),
        )

    def add_to(self, bus: Samples, start: int) -> None:
        """Add every tone that sounds from frame `start` on."""
        for number in self._spans.within(start, start + len(bus)):
            tone = self._held[number]
            first, last = max(tone.start, start), min(tone.stop, start + len(bus))
            samples = steady_tone(self._heard(tone), tone.hz, self._rate_hz, first, last - first)
            rising, falling = (
                fade_in(tone.rise, joined=tone.joins_before),
                fade_out(tone.fall, joined=tone.joins_after),
            )
            shape_ends(samples, first - tone.start, tone.stop - tone.start, rising, falling)
            bus[first - start : last - start] += samples

    def _heard(self, tone: Held) -> tuple[float, ...]:
        return audible(self._partials, tone.hz, self._rate_hz)

    def peaks(self) -> Peaks:
        """Each tone between its joins, and at each join the two sides as powers."""
        rows: list[tuple[int, int, float]] = []
        joins: dict[tuple[int, int], list[float]] = {}
        for tone in self._held:
            level = peak(self._heard(tone))
            start = tone.start + tone.rise * tone.joins_before
            stop = tone.stop - tone.fall * tone.joins_after
            rows.append((start, stop, level))
            if tone.joins_before:
                joins.setdefault((tone.start, start), [0.0, 0.0])[0] += level
            if tone.joins_after:
                joins.setdefault((stop, tone.stop), [0.0, 0.0])[1] += level
        rows += [(first, last, math.hypot(*sides)) for (first, last), sides in joins.items()]
        return peaks_of(rows)


def drone_voice(score: Score, timeline: Timeline, gain_db: float, timbre: str) -> HeldVoice:
    """The drone, in one of the timbres of the table."""
    held = held_tones(score.drone, timeline, timeline.frames_in_ms(DRONE_FADE_MS))
    partials = amplitudes(DRONE_PARTIALS_DB[timbre], factor(DRONE_LEVEL_DB + gain_db))
    return HeldVoice(held, partials, timeline.rate_hz)


def changes_voice(score: Score, timeline: Timeline, gain_db: float) -> HeldVoice:
    """The chords, softer than the drone; a tone that two chords share is held through."""
    tones = [tone for chord in score.changes for tone in chord.tones]
    held = held_tones(tones, timeline, timeline.frames_in_ms(CHANGES_FADE_MS))
    partials = amplitudes(CHANGES_PARTIALS_DB, factor(CHANGES_LEVEL_DB + gain_db))
    return HeldVoice(held, partials, timeline.rate_hz)
