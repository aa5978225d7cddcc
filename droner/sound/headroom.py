"""Find the steady gain at which a whole track cannot clip.

Rule    every voice tells the level that it cannot pass, stretch by stretch. Levels that overlap add up; the
        highest sum of the whole track must stay under the ceiling. If it does not, the track is turned down
        by one steady gain from end to end. It is never turned up, and nothing is limited.
Units   levels are amplitudes, full scale 1.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from droner.sound.levels import CEILING_DB, factor
from droner.sound.voice import Peaks


def highest_sum(parts: Iterable[Peaks]) -> float:
    """The highest level that the parts could reach together."""
    listed = [part for part in parts if len(part.levels)]
    if not listed:
        return 0.0
    frames = np.concatenate([part.stops for part in listed] + [part.starts for part in listed])
    steps = np.concatenate([-part.levels for part in listed] + [part.levels for part in listed])
    in_time = np.argsort(frames, kind="stable")
    return float(np.max(np.cumsum(steps[in_time])))


def steady_gain(parts: Iterable[Peaks]) -> float:
    """The factor of amplitude, at most 1, that keeps the whole track under the ceiling."""
    highest, ceiling = highest_sum(parts), factor(CEILING_DB)
    return min(1.0, ceiling / highest) if highest else 1.0
