"""Find the steady gains at which a track is as loud as it should be and cannot clip.

Rule    every voice tells the level that it cannot pass, stretch by stretch. Levels that overlap add up; the
        highest sum of the whole track must stay under the ceiling. Where a track that is loud enough would pass it,
        its clicks give way first, by one steady gain; what they cannot give, the track does as a whole. Nothing is
        ever limited or turned down for a moment.
Units   levels are amplitudes, full scale 1; loudness in LUFS.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from droner.sound.levels import CEILING_DB, factor
from droner.sound.voice import Amounts, Peaks

MOST_CLICKS_GIVE_DB = 12.0
"""Clicks are never turned down further against the rest. Our choice: they stay the sharpest sound of the track."""


@dataclass(frozen=True, slots=True)
class Gains:
    """The steady factors of amplitude of a track, and of its clicks besides.

    `is_short`: the track is softer than it should be, or its clicks gave all that they may.
    """

    whole: float
    clicks: float
    is_short: bool = False


def gains(lufs: float, target_lufs: float, held: Sequence[Peaks], clicks: Sequence[Peaks]) -> Gains:
    """What brings a track of this loudness to the target, or as near as the ceiling lets it.

    A track without anything held in it has no loudness worth the name: it is only kept under the ceiling.
    """
    wished = factor(target_lufs - lufs) if np.isfinite(lufs) and any(len(part.levels) for part in held) else 1.0
    ceiling = factor(CEILING_DB) / wished
    levels, click_levels = _levels_in_time(held, clicks)
    over = (levels + click_levels > ceiling) & (click_levels > 0)
    room = (ceiling - levels[over]) / click_levels[over]
    least = factor(-MOST_CLICKS_GIVE_DB)
    giving = float(np.clip(room.min(), least, 1.0)) if len(room) else 1.0
    highest = float(np.max(levels + giving * click_levels, initial=0.0))
    is_over = highest > ceiling
    return Gains(wished * (ceiling / highest if is_over else 1.0), giving, is_short=is_over or giving <= least)


def _levels_in_time(held: Sequence[Peaks], clicks: Sequence[Peaks]) -> tuple[Amounts, Amounts]:
    """The sums of what is held and of the clicks, from each moment on at which either changes."""
    rows = [(part.starts, part.stops, part.levels, side) for side, parts in enumerate((held, clicks)) for part in parts]
    rows = [row for row in rows if len(row[2])]
    if not rows:
        return np.zeros(0), np.zeros(0)
    frames = np.concatenate([stops for _, stops, _, _ in rows] + [starts for starts, _, _, _ in rows])
    order = np.argsort(frames, kind="stable")
    sums = [
        np.cumsum(
            np.concatenate(
                [-levels * (of == side) for _, _, levels, of in rows]
                + [levels * (of == side) for _, _, levels, of in rows]
            )[order]
        )
        for side in (0, 1)
    ]
    return sums[0], sums[1]
