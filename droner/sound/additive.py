"""Make a steady tone out of its partials, exactly in tune however long it lasts.

Rule    the phase of every sample follows from its frame number, in double precision, less whole turns;
        it is never carried on from the sample before. A row of samples is one product of matrices: what
        does not change (a table of cosines and sines over the frames of a row) is made once for each
        hertz, and the exact phase at the row's first frame goes into the factors.
            sin(p + w n) = sin p cos(w n) + cos p sin(w n)
Units   hz in hertz; amplitudes of partials 1, 2, ...; phases in turns.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from droner.sound.levels import factor
from droner.sound.timbre_table import HIGHEST_PARTIAL
from droner.sound.voice import Counts, Samples

ROW_FRAMES = 512
"""One row of the product: its table of twelve partials, 48 kB, stays in the processor's nearest memory."""

TABLES_KEPT = 128
"""Tables held at once, at most 6 MB; the memory does not grow with the score."""

_PEAK_POINTS = 4096


def amplitudes(partials_db: tuple[float, ...], level: float) -> tuple[float, ...]:
    """The amplitudes of partials whose sum has the effective level (root mean square) `level`."""
    relative = [factor(partial_db) for partial_db in partials_db]
    effective = float(np.sqrt(sum(part * part for part in relative) / 2))
    return tuple(level * part / effective for part in relative)


def audible(partials: tuple[float, ...], hz: float, rate_hz: int) -> tuple[float, ...]:
    """The partials that lie low enough for the sample rate."""
    return partials[: int(HIGHEST_PARTIAL * rate_hz / hz)]


@lru_cache(maxsize=256)
def peak(partials: tuple[float, ...]) -> float:
    """A level that the sum of these partials, all starting as sines, never passes.

    The highest of N points on one period of a wave of K partials misses its peak at most by cos(pi K / N).
    Source: the Ehlich-Zeller inequality for trigonometric polynomials.
    """
    if not partials:
        return 0.0
    turns = np.arange(_PEAK_POINTS) / _PEAK_POINTS
    number = np.arange(1, len(partials) + 1)
    wave = np.sin(2 * np.pi * np.outer(turns, number)) @ np.array(partials)
    return float(np.max(np.abs(wave)) / np.cos(np.pi * len(partials) / _PEAK_POINTS))


@lru_cache(maxsize=TABLES_KEPT)
def _row_table(hz: float, rate_hz: int, partials: int) -> Samples:
    """Cosines, then sines, of every partial over the frames of one row."""
    turns = np.outer(np.arange(1, partials + 1), np.arange(ROW_FRAMES)) * (hz / rate_hz)
    angle = 2 * np.pi * (turns - np.floor(turns))
    table: Samples = np.concatenate((np.cos(angle), np.sin(angle))).astype(np.float32)
    return table


def _row_factors(partials: tuple[float, ...], hz: float, rate_hz: int, firsts: Counts) -> Samples:
    """For every row: the amplitudes times the sine, then the cosine, of the phase at its first frame."""
    turns = firsts * hz / rate_hz
    turns -= np.floor(turns)
    angle = 2 * np.pi * np.outer(turns, np.arange(1, len(partials) + 1))
    sides = np.concatenate((np.sin(angle), np.cos(angle)), axis=1)
    factors: Samples = (sides * np.array(partials + partials)).astype(np.float32)
    return factors


def steady_tone(partials: tuple[float, ...], hz: float, rate_hz: int, start: int, frames: int) -> Samples:
    """The samples of a tone from frame `start` on."""
    if not partials:
        return np.zeros(frames, dtype=np.float32)
    rows = -(-frames // ROW_FRAMES)
    firsts = start + ROW_FRAMES * np.arange(rows, dtype=np.int64)
    rows_made: Samples = _row_factors(partials, hz, rate_hz, firsts) @ _row_table(hz, rate_hz, len(partials))
    return rows_made.reshape(-1)[:frames]
