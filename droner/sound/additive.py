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
from droner.sound.voice import Amounts, Samples

ROW_FRAMES = 512
"""One row of the product: the table of one tone, 48 kB, stays in the processor's nearest memory."""

ROWS = 64
"""Rows made at once, at most: what comes out, 128 kB, stays in its second memory."""

TONES_KEPT = 128
CHORDS_KEPT = 24
"""Tables held at once, at most 8 MB and 6 MB; the memory does not grow with the score."""

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

    @property
    def highest_hz(self) -> float:
        """Its highest partial."""
        return self.hz * len(self.partials)


@dataclass(frozen=True, slots=True, eq=False)
class _Bank:
    """What does not change about some tones: the table, and the spin of every partial from row to row."""

    table: Samples
    rows: Spins


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


def in_phase(hz: float, partials: tuple[float, ...], turns: float) -> Sounding:
    """A tone whose partials all start with it, so many turns of the first after frame 0."""
    return Sounding(hz, partials, tuple(number * turns % 1.0 for number in range(1, len(partials) + 1)))


def steady_sum(tones: tuple[Sounding, ...], rate_hz: int, start: int, frames: int) -> Samples:
    """The samples of all the tones together from frame `start` on."""
    tones = tuple(tone for tone in tones if tone.partials)
    if not tones:
        return np.zeros(frames, dtype=np.float32)
    pitches = tuple((tone.hz, tone.partials) for tone in tones)
    bank = _chord_bank(pitches, rate_hz) if len(tones) > 1 else _tone_bank(*pitches[0], rate_hz)
    made: Samples = np.empty((-(-frames // ROW_FRAMES), ROW_FRAMES), dtype=np.float32)
    for first in range(0, len(made), ROWS):
        part = made[first : first + ROWS]
        spins = bank.rows[: len(part)] * _spins_at(tones, rate_hz, start + first * ROW_FRAMES)
        np.matmul(spins.astype(np.complex64).view(np.float32), bank.table, out=part)
    return made.reshape(-1)[:frames]


def _spins_at(tones: tuple[Sounding, ...], rate_hz: int, frame: int) -> Spins:
    """Where every partial of every tone stands at a frame."""
    turns = np.concatenate(
        [
            _PARTIAL_NUMBERS[: len(tone.partials)] * ((frame * tone.hz / rate_hz) % 1.0) + np.array(tone.turns)
            for tone in tones
        ]
    )
    spins: Spins = np.exp(2j * np.pi * turns)
    return spins


@lru_cache(maxsize=TONES_KEPT)
def _tone_bank(hz: float, partials: tuple[float, ...], rate_hz: int) -> _Bank:
    """The table of one tone, sine and cosine of each partial in turn, and its spins at the start of every row."""
    number = _PARTIAL_NUMBERS[: len(partials)]
    in_a_row = _spun(number, hz / rate_hz, ROW_FRAMES).T
    table = np.empty((2 * len(partials), ROW_FRAMES), dtype=np.float32)
    table[0::2], table[1::2] = in_a_row.imag, in_a_row.real
    return _Bank(table, _spun(number, ROW_FRAMES * hz / rate_hz, ROWS) * np.array(partials))


def _spun(number: Amounts, turns: float, count: int) -> Spins:
    """One column for each partial: its spins while the first turns on, `turns` at every one of `count` steps."""
    first = np.arange(count) * turns
    spins: Spins = np.exp(2j * np.pi * np.outer(first - np.floor(first), number))
    return spins


@lru_cache(maxsize=CHORDS_KEPT)
def _chord_bank(pitches: tuple[tuple[float, tuple[float, ...]], ...], rate_hz: int) -> _Bank:
    """The tables of several tones, one below another."""
    banks = [_tone_bank(hz, partials, rate_hz) for hz, partials in pitches]
    return _Bank(np.concatenate([bank.table for bank in banks]), np.concatenate([bank.rows for bank in banks], axis=1))


_PARTIAL_NUMBERS: Amounts = np.arange(1, 65, dtype=np.float64)
