"""Follow the course of a moving tone, frame by frame, without ever summing samples.

Rule    between two bearings the cents and the decibels of level go in straight lines of time. The hertz of a tone are
        then hz 2^(cents / 1200), and how far its phase has come by frame n is hz / rate times a run of frames that
        depends on the course alone: over a line that goes from c to c + d cents in F frames, n frames in,
            2^(c / 1200) (exp(b n) - 1) / b        b = log(2) d / (1200 F)
        which is the integral itself. It counts from frame 0, whatever tone sounds when, so that tones with one course
        keep their ratios and one that goes on is held through; and any stretch gives the same samples.
Units   frames, also fractions of one; cents; decibels of amplitude. The run is in frames of a tone that stands still.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise
from math import log

import numpy as np

from droner.score.score import Bearing
from droner.sound.levels import factor
from droner.sound.timeline import Timeline
from droner.sound.voice import Amounts

OCTAVE_CENTS = 1200.0
NEPERS_A_DECIBEL = log(10) / 20
"""The natural logarithm of the factor of a decibel."""
FLATTEST = 1e-25
"""A line that bends less cannot be told from a still one, in an hour not by a millionth of a frame."""
STILL = 0.0
"""Cents and decibels where there is no course."""


class Drift:
    """One course, in frames. Two are the same only if they are one object: make each once."""

    def __init__(self, course: Iterable[Bearing], timeline: Timeline) -> None:
        bearings = tuple(course)
        seconds = [float(timeline.tempo_map.seconds_at(bearing.onset)) for bearing in bearings]
        self._frames: Amounts = np.array(seconds, dtype=np.float64) * timeline.rate_hz
        self._cents: Amounts = np.array([bearing.cents for bearing in bearings], dtype=np.float64)
        self._gains_db: Amounts = np.array([bearing.gain_db for bearing in bearings], dtype=np.float64)
        self._rates: Amounts = np.exp2(self._cents / OCTAVE_CENTS)
        self._bends = _bends(self._frames, self._cents)
        self._runs = self._runs_at_bearings()

    def _runs_at_bearings(self) -> Amounts:
        """The run up to each bearing: a sum over bearings, never over samples."""
        lengths = np.diff(self._frames)
        lines = zip(self._rates[:-1], self._bends[:-1], lengths, strict=True)
        steps = [_along(rate, bend, np.array([length]))[0] for rate, bend, length in lines]
        return np.array([self._rates[0] * self._frames[0], *steps]).cumsum()

    def run(self, frames: Amounts) -> Amounts:
        """How many frames a tone that stands still would need to come as far in phase, for frames that rise."""
        run = np.empty_like(frames)
        for line, part in self._lines(frames):
            near = max(line, 0)
            bend = self._bends[near] if line >= 0 else STILL
            run[part] = self._runs[near] + _along(self._rates[near], bend, frames[part] - self._frames[near])
        return run

    def _lines(self, frames: Amounts) -> Iterator[tuple[int, slice]]:
        """The lines that rising frames are on, by the number of the bearing they start at, -1 before all."""
        first, last = np.searchsorted(self._frames, frames[[0, -1]], side="right") - 1
        turns = np.searchsorted(frames, self._frames[first + 1 : last + 1])
        for line, (start, stop) in enumerate(pairwise([0, *turns.tolist(), len(frames)]), int(first)):
            yield line, slice(start, stop)

    def cents(self, frames: Amounts) -> Amounts:
        """Where it stands, in cents above its hertz."""
        cents: Amounts = np.interp(frames, self._frames, self._cents)
        return cents

    def factors(self, frames: Amounts) -> Amounts:
        """The factors of amplitude."""
        factors: Amounts = np.exp(np.interp(frames, self._frames, self._gains_db) * NEPERS_A_DECIBEL)
        return factors

    @property
    def swells(self) -> bool:
        """Whether its loudness is anything but what it is without a course."""
        return bool(np.any(self._gains_db))

    @property
    def widest_cents(self) -> float:
        """How far it ever strays."""
        return float(np.max(np.abs(self._cents)))

    @property
    def highest_cents(self) -> float:
        """How far it ever rises; 0 if it only sinks."""
        return max(float(np.max(self._cents)), STILL)

    def loudest(self, first: int, last: int) -> float:
        """The highest factor of amplitude between two frames: at one of them, or at a bearing between."""
        between = self._gains_db[(self._frames > first) & (self._frames < last)]
        ends = np.interp((first, last), self._frames, self._gains_db)
        return factor(float(np.max(np.concatenate((ends, between)))))


def _bends(frames: Amounts, cents: Amounts) -> Amounts:
    """The exponents of the lines that start at each bearing; after the last it stands."""
    lengths = np.diff(frames)
    rises = np.divide(np.diff(cents), lengths, out=np.zeros_like(lengths), where=lengths > 0)
    return np.append(rises * (log(2) / OCTAVE_CENTS), STILL)


def _along(rate: float, bend: float, frames: Amounts) -> Amounts:
    """The run over so many frames of a line."""
    if abs(bend) < FLATTEST:
        return rate * frames
    return rate / bend * np.expm1(bend * frames)
