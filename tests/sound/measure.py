"""Measure sound, knowing nothing of how it was made: phases, levels and lines from the samples alone."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import numpy.typing as npt

from droner.score.score import Score
from droner.sound.mix import EachPart, Mix
from droner.sound.render import render_blocks

Wave = npt.NDArray[np.float64]

RATE_HZ = 48_000
OFF = float("-inf")
DRONE_ALONE = Mix(gain_db=EachPart(changes=OFF, click=OFF))
CHANGES_ALONE = Mix(gain_db=EachPart(drone=OFF, click=OFF))
CLICK_ALONE = Mix(gain_db=EachPart(drone=OFF, changes=OFF))
GUIDE_ALONE = Mix(gain_db=EachPart(drone=OFF, changes=OFF, click=OFF), guide=True)


def rendered(
    score: Score,
    mix: Mix,
    start: int = 0,
    stop: int | None = None,
    rate_hz: int = RATE_HZ,
    *,
    levelled: bool = False,
) -> Wave:
    """One stretch of the first channel, in double precision; at the parts' standing levels if not as a track."""
    blocks = list(render_blocks(score, replace(mix, levelled=levelled), rate_hz, start=start, stop=stop))
    return np.concatenate(blocks)[:, 0].astype(np.float64)


def decibels(ratio: float) -> float:
    return float(20 * np.log10(ratio))


def level(wave: Wave) -> float:
    """Effective level (root mean square)."""
    return float(np.sqrt(np.mean(wave * wave)))


def vector(wave: Wave, hz: float, first_frame: int, rate_hz: int = RATE_HZ) -> complex:
    """Amplitude and phase, against a cosine that started at frame 0, of the line at `hz`.

    A Hann window keeps other lines out: its side lobes fall with the cube of the distance, below one in a
    hundred thousand at forty bins.
    """
    window = np.hanning(len(wave) + 1)[:-1]
    frames = first_frame + np.arange(len(wave), dtype=np.float64)
    turns = frames * (hz / rate_hz)
    turns -= np.floor(turns)
    return complex(2 * np.sum(wave * window * np.exp(-2j * np.pi * turns)) / np.sum(window))


def hertz_off(wave: Wave, hz: float, first_frame: int, rate_hz: int = RATE_HZ) -> float:
    """How far the line near `hz` is from it, by the slope of its phase over one-second pieces."""
    seconds = len(wave) // rate_hz
    pieces = [
        vector(wave[piece * rate_hz : (piece + 1) * rate_hz], hz, first_frame + piece * rate_hz, rate_hz)
        for piece in range(seconds)
    ]
    phases = np.unwrap(np.angle(pieces))
    slope = np.polyfit(np.arange(seconds), phases, 1)[0]
    return float(slope / (2 * np.pi))


def cents(hz_off: float, hz: float) -> float:
    return float(1200 * np.log2((hz + hz_off) / hz))


def short_levels(wave: Wave, frames: int) -> Wave:
    """Effective level over a sliding window of so many frames."""
    return np.sqrt(np.convolve(wave * wave, np.full(frames, 1 / frames), mode="valid"))
