"""Shape the beginning and the end of a sound so that it never steps.

Rule    a fade from silence is a raised cosine. Where one tone gives way to another, the two fades keep the
        sum of their squares at 1: tones of different pitch add as powers, so the loudness neither dips nor
        swells. A fade out is the same fade in played backwards.
Units   frames; factors of amplitude 0..1.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import numpy as np
import numpy.typing as npt

from droner.sound.voice import Samples

FADE_ALONE, FADE_JOINED = 3 / 8, 1 / 2
"""What a fade leaves of the power that it fades: the means of the squares of both shapes."""


def _raised_cosine(frames: int) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    return 0.5 - 0.5 * np.cos(np.pi * (np.arange(frames) + 0.5) / frames)


@lru_cache(maxsize=64)
def fade_in(frames: int, *, joined: bool = False) -> Samples:
    """The factors of a fade in; `joined` when another tone fades out under it."""
    if not frames:
        return np.ones(0, dtype=np.float32)
    shape = _raised_cosine(frames)
    made = (np.sin(shape * np.pi / 2) if joined else shape).astype(np.float32)
    made.flags.writeable = False
    return made


def fade_out(frames: int, *, joined: bool = False) -> Samples:
    """The factors of a fade out; `joined` when another tone fades in over it."""
    return fade_in(frames, joined=joined)[::-1]


def shape_ends(samples: npt.NDArray[Any], first: int, length: int, rising: Samples, falling: Samples) -> None:
    """Fade, in place, a stretch of a sound: the sound has `length` frames, the stretch starts at its frame `first`."""
    risen = rising[first : first + len(samples)]
    samples[: len(risen)] *= risen
    start = length - len(falling) - first
    if start < len(samples):
        samples[max(start, 0) :] *= falling[max(-start, 0) : len(samples) - start]
