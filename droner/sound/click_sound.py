"""Make the sound of each kind of click, once.

Rule    the noise is the same in every run: its phases come from the row's seed. It is turned round so that
        its highest sample is the first: a click is heard, and can be measured, on the exact frame.
Units   samples at full scale 1.
"""

from __future__ import annotations

from functools import lru_cache
from random import Random

import numpy as np

from droner.score.score import ClickKind
from droner.sound.click_table import CLICKS, LONGEST_CLICK_MS, ClickRow
from droner.sound.levels import factor
from droner.sound.timbre_table import HIGHEST_PARTIAL
from droner.sound.voice import Amounts, Samples

_LAST_FADE = 0.2
"""The share of a click over which its end is led to zero."""


_LATER_STROKE = 0.7
"""A second stroke is softer, so that the first tells the time."""


@lru_cache(maxsize=32)
def click_sound(kind: ClickKind, rate_hz: int) -> Samples:
    """The samples of one click at gain 1."""
    row = CLICKS[kind]
    length = round(row.length_ms * rate_hz / 1000)
    stroke = _noise(row, rate_hz)[:length] * _dying_away(row, rate_hz, length)
    sound = np.zeros(length)
    for later, offset_ms in enumerate(row.strokes_ms):
        offset = round(offset_ms * rate_hz / 1000)
        sound[offset:] += stroke[: length - offset] * _LATER_STROKE**later
    sound *= factor(row.level_db) / np.max(np.abs(sound))
    made = sound.astype(np.float32)
    made.flags.writeable = False
    return made


def _noise(row: ClickRow, rate_hz: int) -> Amounts:
    """A stretch of noise out of the row's band: every line equally strong, in random phase.

    At 8 kHz, the lowest rate of any format, every band still lies below the highest partial.
    """
    frames = round(LONGEST_CLICK_MS * rate_hz / 1000)
    lines_hz = np.fft.rfftfreq(frames, 1 / rate_hz)
    chance = Random(row.seed)
    phases = np.array([chance.random() for _ in lines_hz])
    high_hz = min(row.high_hz, HIGHEST_PARTIAL * rate_hz)
    inside = (lines_hz >= row.low_hz) & (lines_hz <= high_hz)
    noise = np.fft.irfft(inside * np.exp(2j * np.pi * phases), frames)
    return np.roll(noise, -int(np.argmax(np.abs(noise))))


def _dying_away(row: ClickRow, rate_hz: int, length: int) -> Amounts:
    frame = np.arange(length)
    last = max(round(_LAST_FADE * length), 1)
    to_zero = np.minimum((length - frame) / last, 1.0)
    return np.exp(-frame * 1000 / (row.decay_ms * rate_hz)) * (0.5 - 0.5 * np.cos(np.pi * to_zero))
