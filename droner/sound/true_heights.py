"""Measure how high a track really rises, where the bounds of its voices leave it too little room.

Rule    it is made there once. What is held and the clicks are looked at apart, because they get different gains, and
        sample by sample, because a click that pulls the other way adds nothing. What lies between two samples counts:
        of held tones, the top of the parabola through the three samples at a peak; of clicks, a share of the highest
        sample near by.
Units   frames; samples at full scale 1.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from droner.sound.headroom import Heights, Stairs
from droner.sound.voice import Samples

MEASURED_FRAMES, BOUND_FRAMES = 65_536, 512
BEYOND_PARABOLA = 1.04
"""What a parabola misses, 0.04 dB for 5 kHz at 48 kHz, and what encoders add to held tones: measured, up to 0.3 dB."""
CLICK_BETWEEN_SAMPLES = 0.25
"""By so much of it a click rises above its highest sample: measured 0.15, the rest is for encoders."""
NEAR_FRAMES = 2
"""So far from its highest sample a click may do so: it begins all at once, and rings before it does."""

Made = Callable[[int, int], Samples]
"""The samples of every channel, from a frame on, so many of them."""


def true_heights(held: Made, clicks: Made, frames: int, bounds: Stairs, ceiling: float) -> Heights:
    """How high both rise together wherever their bounds pass the ceiling; of every pair that matters, one."""
    found = Heights(np.zeros(0), np.zeros(0))
    for start in range(0, frames, MEASURED_FRAMES):
        stop = min(start + MEASURED_FRAMES, frames)
        edges = np.append(np.arange(start, stop, BOUND_FRAMES), stop)
        if bounds.within(edges).over(ceiling).any():
            found = found.and_more(_heights(held(start, stop - start), clicks(start, stop - start), ceiling))
    return found


def _heights(held: Samples, clicks: Samples, ceiling: float) -> Heights:
    """The highest of what is held by itself, and every sample at which the clicks lift it above the ceiling."""
    tones, struck = _between_samples(held) * np.float32(BEYOND_PARABOLA), np.abs(clicks)
    together = np.where(held * clicks < 0, -tones, tones)
    lifting = struck + np.float32(CLICK_BETWEEN_SAMPLES) * _highest_near(struck)
    over = (together + lifting > ceiling) & (lifting > 0)
    alone = Heights(np.array([tones.max()], dtype=np.float64), np.zeros(1))
    return alone.and_more(Heights(together[over].astype(np.float64), lifting[over].astype(np.float64)))


def _between_samples(wave: Samples) -> Samples:
    """The level at every sample, at a peak that of the parabola through it and its neighbours."""
    high: Samples = np.abs(wave)
    is_peak = (high[1:-1] >= high[:-2]) & (high[1:-1] >= high[2:]) & (high[1:-1] > 0)
    frames, channels = np.nonzero(is_peak)
    before, here, after = (high[frames + ago, channels] for ago in (0, 1, 2))
    bend = np.maximum(2 * here - before - after, np.finfo(np.float32).tiny)
    high[frames + 1, channels] += (after - before) ** 2 / (8 * bend)
    return high


def _highest_near(struck: Samples) -> Samples:
    near: Samples = struck.copy()
    for apart in range(1, NEAR_FRAMES + 1):
        np.maximum(near[apart:], struck[:-apart], out=near[apart:])
        np.maximum(near[:-apart], struck[apart:], out=near[:-apart])
    return near
