"""Sound the drone and the changes: tones that are held, and nothing else.

Rule    a held tone does not move: no vibrato, no chorus, no second oscillator, no room, no loop. Fades happen
        only where a tone starts, ends or gives way. Between two such moments all tones that stand are made
        together, and so are those that rise or fall together: chords cost hardly more than a tone.
Units   level_db: effective level of one tone below full scale; fades in milliseconds.
Source  levels and fades are our own choice: the reference stays below the player.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from droner.score.score import Score, Tone
from droner.sound.additive import Sounding, amplitudes, held_sounding, steady_sum
from droner.sound.fade import fade_in, fade_out
from droner.sound.held import Held, held_tones
from droner.sound.levels import factor
from droner.sound.peak import peak
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
            stretch = _stretch(tones, first)
            if stretch.standing:
                part += steady_sum(stretch.standing, self._rate_hz, first, len(part))
            for (begin, frames, joined), rising in stretch.rising.items():
                shape = fade_in(frames, joined=joined)[first - begin : last - begin]
                part += steady_sum(tuple(rising), self._rate_hz, first, len(part)) * shape
            for (begin, frames, joined), falling in stretch.falling.items():
                shape = fade_out(frames, joined=joined)[first - begin : last - begin]
                part += steady_sum(tuple(falling), self._rate_hz, first, len(part)) * shape

    def peaks(self) -> Peaks:
        """What stands together between two changes; at a join, the two sides as powers."""
        rows: list[tuple[int, int, float]] = []
        moments = _moments(self._tones, 0, max((tone.stop for tone in self._tones), default=0))
        coming, sounding = 0, list[Held]()
        for first, last in pairwise(moments):
            sounding = [tone for tone in sounding if tone.stop > first]
            while coming < len(self._tones) and self._tones[coming].start <= first:
                sounding.append(self._tones[coming])
                coming += 1
            if sounding:
                rows.append((first, last, _stretch(sounding, first).peak))
        return peaks_of(rows)


@dataclass(frozen=True, slots=True)
class _Stretch:
    """What sounds between two changes: at its full level, rising, and falling."""

    standing: tuple[Sounding, ...]
    rising: dict[Fade, list[Sounding]]
    falling: dict[Fade, list[Sounding]]

    @property
    def peak(self) -> float:
        """The level that it never passes."""
        sides = [
            sum(peak(tuple(some)) for (_, _, joined), some in fades.items() if joined)
            for fades in (self.rising, self.falling)
        ]
        alone = [
            peak(tuple(some))
            for fades in (self.rising, self.falling)
            for (_, _, joined), some in fades.items()
            if not joined
        ]
        return peak(self.standing) + math.hypot(*sides) + sum(alone)


def _stretch(tones: Iterable[Held], frame: int) -> _Stretch:
    """What sounds at a frame, and until the next change."""
    standing: tuple[Sounding, ...] = ()
    rising: dict[Fade, list[Sounding]] = {}
    falling: dict[Fade, list[Sounding]] = {}
    for tone in tones:
        if tone.stands_from <= frame < tone.stands_to:
            standing += tone.soundings
        elif tone.start <= frame < tone.stands_from:
            rising.setdefault((tone.start, tone.rise, tone.joins_before), []).extend(tone.soundings)
        elif tone.stands_to <= frame < tone.stop:
            falling.setdefault((tone.stands_to, tone.fall, tone.joins_after), []).extend(tone.soundings)
    return _Stretch(standing, rising, falling)


def _moments(tones: Iterable[Held], start: int, stop: int) -> list[int]:
    """The frames at which anything changes, from `start` to `stop`."""
    moments = {start, stop}
    for tone in tones:
        moments.update((tone.start, tone.stands_from, tone.stands_to, tone.stop))
    return sorted(moment for moment in moments if start <= moment <= stop)


def drone_tones(score: Score, timeline: Timeline, gain_db: float, timbre: str) -> list[Held]:
    """The drone, in one of the timbres of the table."""
    partials = amplitudes(DRONE_PARTIALS_DB[timbre], factor(DRONE_LEVEL_DB + gain_db))
    return _held(score.drone, timeline, DRONE_FADE_MS, partials)


def changes_tones(score: Score, timeline: Timeline, gain_db: float) -> list[Held]:
    """The chords, softer than the drone; a tone that two chords share is held through."""
    partials = amplitudes(CHANGES_PARTIALS_DB, factor(CHANGES_LEVEL_DB + gain_db))
    return _held((tone for chord in score.changes for tone in chord.tones), timeline, CHANGES_FADE_MS, partials)


def _held(tones: Iterable[Tone], timeline: Timeline, fade_ms: float, partials: tuple[float, ...]) -> list[Held]:
    def sounding(hz: float) -> Sounding:
        return held_sounding(hz, partials, timeline.rate_hz)

    return held_tones(tones, timeline, timeline.frames_in_ms(fade_ms), sounding)
