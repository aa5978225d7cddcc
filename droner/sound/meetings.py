"""Find the partials in which two tones meet.

Rule    partials meet that lie closer together than a swing can be; of tones that stray, those that may come so close.
Units   hz in hertz at rest; `height` is the weighted product of both amplitudes; `turns` the phase apart at frame 0.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from droner.sound.additive import Sounding
from droner.sound.drift import OCTAVE_CENTS
from droner.sound.k_weighting import partial_weights


@dataclass(frozen=True, slots=True)
class Meeting:
    """Two partials that can come close."""

    hz: float
    other_hz: float
    height: float
    turns: float


@lru_cache(maxsize=1024)
def meetings(one: Sounding, other: Sounding, apart_cents: float, widest_hz: float) -> tuple[Meeting, ...]:
    """The partials of two tones that lie within `widest_hz`, or may come to while the tones stray so far."""
    if not one.partials or not other.partials:
        return ()
    hertz = one.hz * np.arange(1, len(one.partials) + 1)
    others = other.hz * np.arange(1, len(other.partials) + 1)
    strays = hertz * (2 ** (apart_cents / OCTAVE_CENTS) - 1)
    weights = partial_weights(one.hz, len(hertz))
    close = np.abs(hertz[:, None] - others[None, :]) < widest_hz + strays[:, None]
    return tuple(
        Meeting(
            float(hertz[at]),
            float(others[to]),
            float(weights[at] * one.partials[at] * other.partials[to]),
            one.turns[at] - other.turns[to],
        )
        for at, to in np.argwhere(close)
    )
