"""Sound the drone and the changes: tones that are held, and nothing else.

Rule    a held tone does not move, unless the score gives it a course: no vibrato, no chorus, no second oscillator, no
        room, no loop. Fades happen only where a tone starts, ends or gives way. Between two such moments all tones
        that stand are made together, and so are those that rise or fall together, or go one course: chords cost
        hardly more than a tone.
Units   level_db: effective level of one tone below full scale; fades in milliseconds.
Source  levels and fades are our own choice: the reference stays below the player.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np

from droner.score.score import Score, Tone
from droner.sound.additive import Sounding, amplitudes, audible, held_sounding
from droner.sound.drift import OCTAVE_CENTS, Drift
from droner.sound.fade import fade_in, fade_out
from droner.sound.held import Held, held_tones
from droner.sound.levels import factor
from droner.sound.moving_voice import tones_sum
from droner.sound.peak import peak
from droner.sound.spans import Spans
from droner.sound.timbre_table import CHANGES_PARTIALS_DB, DRONE_PARTIALS_DB, USUAL_TIMBRE
from droner.sound.timeline import Timeline
from droner.sound.voice import Peaks, Samples, peaks_of

DRONE_LEVEL_DB = -22.0
DRONE_FADE_MS = 60.0
CHANGES_LEVEL_DB = -28.0
CHANGES_FADE_MS = 25.0
PLAIN_PARTIALS_DB = (0.0,)
"""A plain tone: a sine, at the level that it would have with its partials."""

Fade = tuple[int, int, bool, Drift | None]
"""The frame at which a fade begins, its length, whether other tones share it, and how those in it drift."""


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
            for drift, standing in stretch.standing.items():
                part += tones_sum(tuple(standing), drift, self._rate_hz, first, len(part))
            for (begin, frames, joined, drift), rising in stretch.rising.items():
                shape = fade_in(frames, joined=joined)[first - begin : last - begin]
                part += tones_sum(tuple(rising), drift, self._rate_hz, first, len(part)) * shape
            for (begin, frames, joined, drift), falling in stretch.falling.items():
                shape = fade_out(frames, joined=joined)[first - begin : last - begin]
                part += tones_sum(tuple(falling), drift, self._rate_hz, first, len(part)) * shape

    def peaks(self) -> Peaks:
        """What stands together between two changes; at a join, the two sides as powers."""
        return peaks_of(self._levels())

    def _levels(self) -> Iterator[tuple[int, int, float]]:
        """From one change to the next, and the level that is not passed between."""
        moments = _moments(self._tones, 0, max((tone.stop for tone in self._tones), default=0))
        coming, sounding = 0, list[Held]()
        for first, last in pairwise(moments):
            sounding = [tone for tone in sounding if tone.stop > first]
            while coming < len(self._tones) and self._tones[coming].start <= first:
                sounding.append(self._tones[coming])
                coming += 1
            if sounding:
                yield first, last, _stretch(sounding, first).peak(first, last)


@dataclass(frozen=True, slots=True)
class _Stretch:
    """What sounds between two changes: at its full level, rising, and falling."""

    standing: dict[Drift | None, list[Sounding]]
    rising: dict[Fade, list[Sounding]]
    falling: dict[Fade, list[Sounding]]

    def peak(self, first: int, last: int) -> float:
        """The level that it never passes from one frame to another."""
        sides = [
            sum(_peak(some, drift, first, last) for (_, _, joined, drift), some in fades.items() if joined)
            for fades in (self.rising, self.falling)
        ]
        alone = [
            _peak(some, drift, first, last)
            for fades in (self.rising, self.falling)
            for (_, _, joined, drift), some in fades.items()
            if not joined
        ]
        standing = [_peak(some, drift, first, last) for drift, some in self.standing.items()]
        return sum(standing) + math.hypot(*sides) + sum(alone)


def _peak(tones: Iterable[Sounding], drift: Drift | None, first: int, last: int) -> float:
    """Tones that go one course keep their ratios, so that their common period holds, however long it lasts."""
    return peak(tuple(tones)) * (drift.loudest(first, last) if drift else 1.0)


def _stretch(tones: Iterable[Held], frame: int) -> _Stretch:
    """What sounds at a frame, and until the next change."""
    standing: dict[Drift | None, list[Sounding]] = {}
    rising: dict[Fade, list[Sounding]] = {}
    falling: dict[Fade, list[Sounding]] = {}
    for tone in tones:
        if tone.stands_from <= frame < tone.stands_to:
            standing.setdefault(tone.drift, []).extend(tone.soundings)
        elif tone.start <= frame < tone.stands_from:
            rising.setdefault((tone.start, tone.rise, tone.joins_before, tone.drift), []).extend(tone.soundings)
        elif tone.stands_to <= frame < tone.stop:
            falling.setdefault((tone.stands_to, tone.fall, tone.joins_after, tone.drift), []).extend(tone.soundings)
    return _Stretch(standing, rising, falling)


def _moments(tones: Iterable[Held], start: int, stop: int) -> list[int]:
    """The frames at which anything changes, from `start` to `stop`."""
    moments = {start, stop}
    for tone in tones:
        moments.update((tone.start, tone.stands_from, tone.stands_to, tone.stop))
    return sorted(moment for moment in moments if start <= moment <= stop)


def drone_tones(score: Score, timeline: Timeline, gain_db: float, timbre: str) -> list[Held]:
    """The drone, in one of the timbres of the table."""
    return _held(score.drone, timeline, DRONE_FADE_MS, DRONE_PARTIALS_DB[timbre], DRONE_LEVEL_DB + gain_db)


def drone_fades(score: Score, rate_hz: int) -> list[tuple[int, int]]:
    """The first frame of every fade of the drone, and the first after it; a join is one fade."""
    timeline = Timeline(score.tempo_map, rate_hz)
    tones = drone_tones(score, timeline, 0.0, USUAL_TIMBRE)
    rising = {(tone.start, tone.stands_from) for tone in tones}
    return sorted(rising | {(tone.stands_to, tone.stop) for tone in tones})


def changes_tones(score: Score, timeline: Timeline, gain_db: float) -> list[Held]:
    """The chords, softer than the drone; a tone that two chords share is held through."""
    tones = (tone for chord in score.changes for tone in chord.tones)
    return _held(tones, timeline, CHANGES_FADE_MS, CHANGES_PARTIALS_DB, CHANGES_LEVEL_DB + gain_db)


def _held(
    tones: Iterable[Tone], timeline: Timeline, fade_ms: float, partials_db: tuple[float, ...], level_db: float
) -> list[Held]:
    @lru_cache(maxsize=256)
    def partials(*, gain_db: float, plain: bool) -> tuple[float, ...]:
        return amplitudes(PLAIN_PARTIALS_DB if plain else partials_db, factor(level_db + gain_db))

    def sounding(tone: Tone, drift: Drift | None) -> Sounding:
        highest_hz = tone.hz * 2 ** (drift.highest_cents / OCTAVE_CENTS) if drift else tone.hz
        heard = audible(partials(gain_db=tone.gain_db, plain=tone.plain), highest_hz, timeline.rate_hz)
        return held_sounding(tone.hz, heard, timeline.rate_hz)

    return held_tones(tones, timeline, timeline.frames_in_ms(fade_ms), sounding)
