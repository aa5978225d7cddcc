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
from droner.sound.voice import Amounts, Counts, Flags, Peaks

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


@dataclass(frozen=True, slots=True)
class Heights:
    """How high what is held and the clicks can rise, each at the same stretches of time."""

    held: Amounts
    clicks: Amounts

    def over(self, ceiling: float, held_factor: float = 1.0) -> Flags:
        """Where the sum of both passes the ceiling; what is held may be taken for higher than it is."""
        return held_factor * self.held + self.clicks > ceiling

    def where_over(self, ceiling: float) -> Heights:
        """Only the stretches in which both together pass the ceiling."""
        over = self.over(ceiling)
        return Heights(self.held[over], self.clicks[over])


def all_heights(pieces: Sequence[Heights]) -> Heights:
    """Those of several pieces of a track."""
    none = np.zeros(0)
    held = np.concatenate((none, *(piece.held for piece in pieces)))
    return Heights(held, np.concatenate((none, *(piece.clicks for piece in pieces))))


@dataclass(frozen=True, slots=True)
class Stairs:
    """The sums of what is held and of the clicks, from each moment on at which either changes."""

    moments: Counts
    heights: Heights

    def within(self, edges: Counts) -> Heights:
        """The highest steps between every two edges."""
        first = self.moments.searchsorted(edges[:-1], "right")
        last = self.moments.searchsorted(edges[1:], "left") + 1
        places = np.stack((first, last), axis=1).reshape(-1)
        return Heights(_highest(self.heights.held, places), _highest(self.heights.clicks, places))


def stairs(held: Sequence[Peaks], clicks: Sequence[Peaks]) -> Stairs:
    """What the voices' bounds add up to."""
    rows = [(part, side) for side, parts in enumerate((held, clicks)) for part in parts if len(part.levels)]
    if not rows:
        return Stairs(np.zeros(0, dtype=np.int64), Heights(np.zeros(0), np.zeros(0)))
    moments = np.concatenate([part.stops for part, _ in rows] + [part.starts for part, _ in rows])
    order = np.argsort(moments, kind="stable")
    heights = Heights(*(_sums(rows, side, order) for side in (0, 1)))
    return Stairs(moments[order], heights)


def _sums(rows: Sequence[tuple[Peaks, int]], wanted: int, order: Counts) -> Amounts:
    """The running sum of one side's levels, that go away at their stop and come at their start."""
    half = len(order) // 2
    steps, place = np.zeros(len(order)), 0
    for part, side in rows:
        if side == wanted:
            steps[place : place + len(part.levels)] = -part.levels
            steps[half + place : half + place + len(part.levels)] = part.levels
        place += len(part.levels)
    steps = steps[order]
    return np.cumsum(steps, out=steps)


def _highest(steps: Amounts, places: Counts) -> Amounts:
    """The highest step of every stretch, each given as two places; before the first and after the last is none."""
    return np.maximum.reduceat(np.concatenate((np.zeros(1), steps, np.zeros(1))), places)[::2]


def wished_gain(lufs: float, target_lufs: float, held: Sequence[Peaks]) -> float:
    """What brings a track of this loudness to the target.

    A track without anything held in it has no loudness worth the name: it is only kept under the ceiling.
    """
    return factor(target_lufs - lufs) if np.isfinite(lufs) and any(len(part.levels) for part in held) else 1.0


def gains(wished: float, heights: Heights) -> Gains:
    """The wished gain, or as near to it as the ceiling lets the track come."""
    ceiling = ceiling_at(wished)
    over = heights.over(ceiling) & (heights.clicks > 0)
    room = (ceiling - heights.held[over]) / heights.clicks[over]
    least = factor(-MOST_CLICKS_GIVE_DB)
    giving = float(np.clip(room.min(), least, 1.0)) if len(room) else 1.0
    highest = float(np.max(heights.held + giving * heights.clicks, initial=0.0))
    is_over = highest > ceiling
    return Gains(wished * (ceiling / highest if is_over else 1.0), giving, is_short=is_over or giving <= least)


def ceiling_at(gain: float) -> float:
    """How high a track may rise before it is made louder by a gain."""
    return factor(CEILING_DB) / gain
