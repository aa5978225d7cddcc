"""Make tones that move together out of their partials.

Rule    all partials of a tone turn with its first, whose phase follows from the frame number (see `drift`), in double
        precision and less whole turns. With z the first as a point on a circle, partial k is z^k, and the sum is one
        polynomial in z. What stands still is never made here: it costs some ten times as much.
Units   hz in hertz; frames from the start of the score.
Source  Horner's rule.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from droner.sound.additive import Sounding, steady_sum
from droner.sound.drift import Drift
from droner.sound.voice import Amounts, Samples

FRAMES_AT_ONCE = 4096
"""A polynomial's two rows of so many frames, 64 kB, stay in the processor's near memory."""


def tones_sum(tones: tuple[Sounding, ...], drift: Drift | None, rate_hz: int, start: int, frames: int) -> Samples:
    """The samples from frame `start` on of tones that go one course together, or stand still."""
    if drift is None:
        return steady_sum(tones, rate_hz, start, frames)
    return moving_sum(tones, drift, rate_hz, start, frames)


def moving_sum(tones: tuple[Sounding, ...], drift: Drift, rate_hz: int, start: int, frames: int) -> Samples:
    """The samples from frame `start` on of tones that go one course together."""
    made = np.zeros(frames, dtype=np.float32)
    for first in range(0, frames, FRAMES_AT_ONCE):
        part = made[first : first + FRAMES_AT_ONCE]
        at: Amounts = start + first + np.arange(len(part), dtype=np.float64)
        run = drift.run(at)
        for tone in tones:
            part += _wave(tone, run * (tone.hz / rate_hz))
        if drift.swells:
            part *= drift.factors(at).astype(np.float32)
    return made


def _wave(tone: Sounding, turns: Amounts) -> Samples:
    """One tone where its first partial has made so many turns."""
    if not tone.partials:
        return np.zeros(len(turns), dtype=np.float32)
    spins = _points_on_the_circle(turns)
    weights = (np.array(tone.partials) * np.exp(2j * np.pi * np.array(tone.turns))).astype(np.complex64)
    wave = np.full(len(turns), weights[-1])
    for weight in weights[-2::-1]:
        wave *= spins
        wave += weight
    wave *= spins
    return wave.imag


def _points_on_the_circle(turns: Amounts) -> npt.NDArray[np.complex64]:
    angles = ((turns - np.floor(turns)) * (2 * np.pi)).astype(np.float32)
    points = np.empty(len(turns), dtype=np.complex64)
    points.real, points.imag = np.cos(angles), np.sin(angles)
    return points
