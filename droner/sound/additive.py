"""Make steady tones out of their partials, exactly in tune however long they last.

Rule    the phase of every sample follows from its frame number, in double precision, less whole turns;
        it is never carried on from the sample before. All tones that sound together are one product of matrices,
        a row of it being a few hundred frames:
            sin(p + w n) = cos p sin(w n) + sin p cos(w n)
        What stands in the table of sines and cosines, and how far a phase gets from row to row, is made once for
        each tone and kept; what is new in a stretch is one phase for each partial.
Units   hz in hertz; amplitudes of partials 1, 2, ...; phases in turns.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import log

import numpy as np
import numpy.typing as npt

from droner.sound.levels import factor
from droner.sound.timbre_table import HIGHEST_PARTIAL
from droner.sound.voice import Counts, Samples

ROW_FRAMES = 512
"""One row of the product: the table of one tone, 48 kB, stays in the processor's nearest memory."""

ROWS = 128
"""Rows made at once, at most: what comes out, 256 kB, stays in its second memory."""

TONES_KEPT, CHORDS_KEPT = 48, 24
"""Tables held at once: 3 MB of single tones, and 7 MB if all chords were large; it does not grow with the score."""

SPREAD_TURNS, SPREAD_FROM_HZ = 0.8, 50.0
"""How far the starts of the partials are spread; chosen for low peaks in chords over a drone, by trying some forty."""

Spins = npt.NDArray[np.complex128]
"""Phases as points on a circle whose radius is the amplitude."""


@dataclass(frozen=True, slots=True, eq=False)
class Sounding:
    """One tone: its hertz, the amplitudes of its partials, and the phase of each at frame 0."""

    hz: float
    partials: tuple[float, ...]
    turns: tuple[float, ...]


@dataclass(frozen=True, slots=True, eq=False)
class _Bank:
    """What does not change about some tones: the table; of every partial, the spin row by row and the angle a frame."""

    table: Samples
    rows: npt.NDArray[np.complex64]
    angle_a_frame: Spins


def amplitudes(partials_db: tuple[float, ...], level: float) -> tuple[float, ...]:
    """The amplitudes of partials whose sum has the effective level (root mean square) `level`."""
    relative = [factor(partial_db) for partial_db in partials_db]
    effective = float(np.sqrt(sum(part * part for part in relative) / 2))
    return tuple(level * part / effective for part in relative)


def audible(partials: tuple[float, ...], hz: float, rate_hz: int) -> tuple[float, ...]:
    """The partials that lie low enough for the sample rate."""
    return partials[: int(HIGHEST_PARTIAL * rate_hz / hz)]


@lru_cache(maxsize=1024)
def held_sounding(hz: float, partials: tuple[float, ...], rate_hz: int) -> Sounding:
    """A tone that is held. Where each partial starts depends on its hertz alone.

    So partials of two tones that stand on the same hertz are always in step and never cancel; and those of one tone do
    not rise together, which would make high peaks of little loudness.
    """
    heard = audible(partials, hz, rate_hz)
    return Sounding(hz, heard, tuple(_starts_at(hz * number) for number in range(1, len(heard) + 1)))


def _starts_at(hz: float) -> float:
    return -SPREAD_TURNS * log(hz / SPREAD_FROM_HZ) ** 2 % 1.0


@lru_cache(maxsize=256)
def in_phase(hz: float, partials: tuple[float, ...], turns: float) -> Sounding:
    """A tone whose partials all start with it, so many turns of the first after frame 0."""
    return Sounding(hz, partials, tuple(number * turns % 1.0 for number in range(1, len(partials) + 1)))


def steady_sum(tones: tuple[Sounding, ...], rate_hz: int, start: int, frames: int) -> Samples:
    """The samples of all the tones together from frame `start` on."""
    bank = _bank(tones, rate_hz)
    made: Samples = np.empty((-(-frames // ROW_FRAMES), ROW_FRAMES), dtype=np.float32)
    for first in range(0, len(made), ROWS):
        part = made[first : first + ROWS]
        _make(part, bank, start + first * ROW_FRAMES, 0)
    return made.reshape(-1)[:frames]


def rows_from_start(tones: tuple[Sounding, ...], rate_hz: int, first: int, last: int) -> Samples:
    """The samples of some rows, all of them among the first ROWS, counted from frame 0 on."""
    made: Samples = np.empty((last - first, ROW_FRAMES), dtype=np.float32)
    _make(made, _bank(tones, rate_hz), 0, first)
    return made.reshape(-1)


def _make(made: Samples, bank: _Bank, start: int, row: int) -> None:
    """Fill rows with what sounds so many rows after frame `start`."""
    spins = np.exp(bank.angle_a_frame * start).astype(np.complex64)
    np.matmul((bank.rows[row : row + len(made)] * spins).view(np.float32), bank.table, out=made)


def _bank(tones: tuple[Sounding, ...], rate_hz: int) -> _Bank:
    """What does not change about some tones."""
    return _tone_bank(tones[0], rate_hz) if len(tones) == 1 else _chord_bank(tones, rate_hz)


@lru_cache(maxsize=CHORDS_KEPT)
def _chord_bank(tones: tuple[Sounding, ...], rate_hz: int) -> _Bank:
    """The same of several tones, one below another."""
    banks = [_tone_bank(tone, rate_hz) for tone in tones]
    return _Bank(
        np.concatenate([bank.table for bank in banks]),
        np.concatenate([bank.rows for bank in banks], axis=1),
        np.concatenate([bank.angle_a_frame for bank in banks]),
    )


@lru_cache(maxsize=TONES_KEPT)
def _tone_bank(tone: Sounding, rate_hz: int) -> _Bank:
    """The same of one tone."""
    number = np.arange(1, len(tone.partials) + 1)
    in_a_row = _spun(number, tone.hz / rate_hz, ROW_FRAMES).T
    table = np.empty((2 * len(number), ROW_FRAMES), dtype=np.float32)
    table[0::2], table[1::2] = in_a_row.imag, in_a_row.real
    starts = np.array(tone.partials) * np.exp(2j * np.pi * np.array(tone.turns))
    rows = (_spun(number, ROW_FRAMES * tone.hz / rate_hz, ROWS) * starts).astype(np.complex64)
    angles: Spins = np.asarray(2j * np.pi * number * (tone.hz / rate_hz), dtype=np.complex128)
    return _Bank(table, rows, angles)


def _spun(number: Counts, turns: float, count: int) -> Spins:
    """One column for each partial: its spins while the first turns on, `turns` at every one of `count` steps."""
    first = np.arange(count) * turns
    spins: Spins = np.exp(2j * np.pi * np.outer(first - np.floor(first), number))
    return spins
