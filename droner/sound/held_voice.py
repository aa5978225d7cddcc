"""Sound the drone and the changes: tones that are held, and nothing else.

Rule    a held tone does not move: no vibrato, no chorus, no second oscillator, no room, no loop. Fades happen
        only where a tone starts, ends or gives way. Between two such moments all tones that stand are made
        together, and so are those that rise or fall together: chords cost hardly more than a tone.
Units   level_db: effective level of one tone below full scale; fades in milliseconds.
Source  levels and fades are our own choice: the reference stays below the player.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from functools import cache
from itertools import pairwise

import numpy as np

from droner.score.score import Score, Tone
from droner.sound.additive import Sounding, amplitudes, audible, peak, steady_sum
from droner.sound.fade import fade_in, fade_out
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


Fade = tuple[int, int, bool]
"""The frame at which a fade begins, its length, and whether other tones share it."""


class HeldVoice:
    """Held tones, of one part or of several."""

    def __init__(self, tones: Iterable[Held], rate_hz: int) -> None:
        self._tones = sorted(tones, key=lambda tone: tone.start)
        self._rate_hz = rate_hz
        self._spans = Spans(
            np.array([tone.start for tone in self._tones], dtype=np.int64),
            np.array([tone.stop for tone in self._tones], dtype=np.int64),
        )

    def add_to(self, bus: Samples, start: int) -> None:
        """Add every tone that sounds from frame `start` on."""
        stop = start + len(bus)
        tones = [self._tones[number] for number in self._spans.within(start, stop)]
        for first, last in pairwise(_moments(tones, start, stop)):
            part = bus[first - start : last - start]
            standing = tuple(tone.sounding for tone in tones if tone.stands_from <= first and last <= tone.stands_to)
            if standing:
                part += steady_sum(standing, self._rate_hz, first, len(part))
            for (begin, frames, joined), rising in _together(tones, first, rises=True):
                shape = fade_in(frames, joined=joined)[first - begin : last - begin]
                part += steady_sum(rising, self._rate_hz, first, len(part)) * shape
            for (begin, frames, joined), falling in _together(tones, first, rises=False):
                shape = fade_out(frames, joined=joined)[first - begin : last - begin]
                part += steady_sum(falling, self._rate_hz, first, len(part)) * shape

    def peaks(self) -> Peaks:
        """Each tone between its joins, and at each join the two sides as powers."""
        rows: list[tuple[int, int, float]] = []
        joins: dict[tuple[int, int], list[float]] = {}
        for tone in self._tones:
            level = peak(tone.sounding.partials)
            start = tone.stands_from if tone.joins_before else tone.start
            stop = tone.stands_to if tone.joins_after else tone.stop
            rows.append((start, stop, level))
            if tone.joins_before:
                joins.setdefault((tone.start, start), [0.0, 0.0])[0] += level
            if tone.joins_after:
                joins.setdefault((stop, tone.stop), [0.0, 0.0])[1] += level
        rows += [(first, last, math.hypot(*sides)) for (first, last), sides in joins.items()]
        return peaks_of(rows)


def _moments(tones: Iterable[Held], start: int, stop: int) -> list[int]:
    """The frames at which anything changes, from `start` to `stop`."""
    moments = {start, stop}
    for tone in tones:
        moments.update((tone.start, tone.stands_from, tone.stands_to, tone.stop))
    return sorted(moment for moment in moments if start <= moment <= stop)


def _together(tones: Iterable[Held], frame: int, *, rises: bool) -> Iterator[tuple[Fade, tuple[Sounding, ...]]]:
    """The tones that are rising at a frame, or falling, by the fade that they share."""
    sharing: dict[Fade, list[Sounding]] = {}
    for tone in tones:
        if rises and tone.start <= frame < tone.stands_from:
            sharing.setdefault((tone.start, tone.rise, tone.joins_before), []).append(tone.sounding)
        elif not rises and tone.stands_to <= frame < tone.stop:
            sharing.setdefault((tone.stands_to, tone.fall, tone.joins_after), []).append(tone.sounding)
    yield from ((fade, tuple(soundings)) for fade, soundings in sharing.items())


def drone_tones(score: Score, timeline: Timeline, gain_db: float, timbre: str) -> list[Held]:
    """The drone, in one of the timbres of the table."""
    partials = amplitudes(DRONE_PARTIALS_DB[timbre], factor(DRONE_LEVEL_DB + gain_db))
    return _held(score.drone, timeline, DRONE_FADE_MS, partials)


def changes_tones(score: Score, timeline: Timeline, gain_db: float) -> list[Held]:
    """The chords, softer than the drone; a tone that two chords share is held through."""
    partials = amplitudes(CHANGES_PARTIALS_DB, factor(CHANGES_LEVEL_DB + gain_db))
    return _held((tone for chord in score.changes for tone in chord.tones), timeline, CHANGES_FADE_MS, partials)


def _held(tones: Iterable[Tone], timeline: Timeline, fade_ms: float, partials: tuple[float, ...]) -> list[Held]:
    @cache
    def sounding(hz: float) -> Sounding:
        return Sounding(hz, audible(partials, hz, timeline.rate_hz))

    return held_tones(tones, timeline, timeline.frames_in_ms(fade_ms), sounding)
