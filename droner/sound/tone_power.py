"""Find the weighted energy of tones, alone and where their partials meet.

Rule    partials of different pitch add as powers. Two that stand on the same hertz add as they are in phase, and two
        that stand close together swing between both: of a sin x and b sin y it is a b cos(x - y). Further apart they
        swing too fast to matter in a block of 400 ms.
Units   frames; powers are weighted mean squares at full scale 1; hz in hertz.
Source  the mean of the square of a sum of sines (trigonometry).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, product
from math import cos, pi, sin, sqrt

import numpy as np

from droner.sound.additive import Sounding
from droner.sound.fade import FADE_ALONE, FADE_JOINED
from droner.sound.held import Held
from droner.sound.k_weighting import partial_weights
from droner.sound.loudness import Energy, Swing
from droner.sound.meetings import meetings
from droner.sound.moving_power import add_between, add_own, add_within
from droner.sound.spans import Spans

WIDEST_SWING_HZ = 5.0
"""Beats faster than this hardly change the mean of 400 ms: at most by 1/6 of their depth."""
STILL_TURNS = 0.01
"""Partials that drift apart by less than this over all of a stretch are taken for the same."""
SHORT_SECONDS = 1.0
"""A swing in so short a stretch is taken at its mean."""
LONG_NOTE_SECONDS = 0.3
"""Shorter notes meet held tones in ever other phases, and what they gain and lose by it evens out."""

Factors = tuple[float, ...]
"""What a part gives to each channel."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Part of a note: first and last frame, mean square of its level, tone; `lasts`: the note is a long one."""

    first: float
    last: float
    level: float
    sounding: Sounding
    lasts: bool


@dataclass(frozen=True, slots=True)
class Placed:
    """Tones held together, and what they give to each channel."""

    held: Held
    factors: Factors

    @property
    def first(self) -> float:
        """The frame from which their full power would have to start for the same energy."""
        share = FADE_JOINED if self.held.joins_before else FADE_ALONE
        return self.held.start + (1 - share) * self.held.rise

    @property
    def last(self) -> float:
        """The frame at which their full power would have to end for the same energy."""
        share = FADE_JOINED if self.held.joins_after else FADE_ALONE
        return self.held.stop - (1 - share) * self.held.fall


def add_held(energy: Energy, tones: Iterable[Placed]) -> None:
    """Add what held tones give, each for itself and every two that sound together."""
    standing: list[Placed] = []
    for tone in sorted(tones, key=lambda tone: tone.held.start):
        _add_alone(energy, tone, _dot(tone.factors, tone.factors))
        standing = [other for other in standing if other.last > tone.first]
        for other in standing:
            span = max(tone.first, other.first), min(tone.last, other.last)
            _add_both(energy, other.held, tone.held, _dot(other.factors, tone.factors), span)
        standing.append(tone)


def _add_alone(energy: Energy, tone: Placed, own: float) -> None:
    """Add what tones held together give."""
    soundings, drift, span = tone.held.soundings, tone.held.drift, (tone.first, tone.last)
    power = own * sum(map(tone_power, soundings))
    if drift is None:
        energy.add(*span, power)
        _add_meetings(energy, _within(soundings), own, *span)
    else:
        add_own(energy, power, drift, *span)
        add_within(energy, soundings, drift, own, span, WIDEST_SWING_HZ)


def _add_both(energy: Energy, one: Held, other: Held, together: float, span: tuple[float, float]) -> None:
    """Add what the tones of two stretches give beyond their own powers."""
    if one.drift is None and other.drift is None:
        _add_meetings(energy, _between(one.soundings, other.soundings), together, *span)
    else:
        some, others = (one.soundings, one.drift), (other.soundings, other.drift)
        add_between(energy, some, others, together, span, WIDEST_SWING_HZ)


def add_notes(energy: Energy, notes: Iterable[Stretch], factors: Factors, tones: Iterable[Placed]) -> None:
    """Add what notes give: each for itself, and one that lasts with the held tones that it meets."""
    own = _dot(factors, factors)
    placed = sorted(tones, key=lambda tone: tone.held.start)
    spans = Spans(
        np.array([tone.held.start for tone in placed], dtype=np.int64),
        np.array([tone.held.stop for tone in placed], dtype=np.int64),
    )
    for note in notes:
        energy.add(note.first, note.last, own * note.level * tone_power(note.sounding))
        if not note.lasts:
            continue
        for tone in (placed[number] for number in spans.within(int(note.first), int(note.last))):
            together = _dot(factors, tone.factors) * sqrt(note.level)
            span = max(note.first, tone.first), min(note.last, tone.last)
            if tone.held.drift is not None:
                others = (note.sounding,), None
                add_between(energy, (tone.held.soundings, tone.held.drift), others, together, span, WIDEST_SWING_HZ)
                continue
            _add_meetings(energy, _between(tone.held.soundings, (note.sounding,)), together, *span)


@lru_cache(maxsize=1024)
def tone_power(sounding: Sounding) -> float:
    """The weighted power of a tone at full level."""
    partials = np.array(sounding.partials)
    return float((partials**2 / 2 * partial_weights(sounding.hz, len(partials))).sum())


@lru_cache(maxsize=1024)
def _within(soundings: tuple[Sounding, ...]) -> tuple[Swing, ...]:
    """Where partials meet among some tones."""
    return tuple(one for pair in combinations(soundings, 2) for one in _meetings(*pair))


@lru_cache(maxsize=1024)
def _between(some: tuple[Sounding, ...], others: tuple[Sounding, ...]) -> tuple[Swing, ...]:
    """Where partials meet between some tones and others."""
    return tuple(one for pair in product(some, others) for one in _meetings(*pair))


def _meetings(one: Sounding, other: Sounding) -> Iterator[Swing]:
    """How partials of two tones that stand still swing between both."""
    for found in meetings(one, other, 0.0, WIDEST_SWING_HZ):
        yield found.hz - found.other_hz, found.height, found.turns


def _add_meetings(energy: Energy, shared: tuple[Swing, ...], together: float, first: float, last: float) -> None:
    """Add what tones give beyond their own powers while they sound together."""
    if not shared or not together or last <= first:
        return
    seconds = (last - first) / energy.rate_hz
    if seconds < SHORT_SECONDS or all(abs(apart) * seconds < STILL_TURNS for apart, _, _ in shared):
        energy.add(first, last, together * sum(_mean_swing(swing, first, last, energy.rate_hz) for swing in shared))
    else:
        energy.add_swings(first, last, [(often, together * height, turns) for often, height, turns in shared])


def _mean_swing(swing: Swing, first: float, last: float, rate_hz: int) -> float:
    often, height, turns = swing
    middle = cos(2 * pi * (often * (first + last) / (2 * rate_hz) + turns))
    wide = pi * often * (last - first) / rate_hz
    return height * middle * (sin(wide) / wide if wide else 1.0)


def _dot(one: Factors, other: Factors) -> float:
    return sum(a * b for a, b in zip(one, other, strict=True))
