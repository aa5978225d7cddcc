"""Find the steady gains at which a track is as loud as it should be and cannot clip.

Rule    every voice tells the level that it cannot pass, stretch by stretch. Levels that overlap add up; the
        highest sum of the whole track must stay under the ceiling. Where a track that is loud enough would pass it,
        its clicks give way first, by one steady gain; what they cannot give, the track does as a whole. They give way
        too where they would keep the track from its loudness (see `aim`), and are left as they are where even that
        is not enough. Nothing is ever limited or turned down for a moment.
Units   levels are amplitudes, full scale 1; loudness in LUFS.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from droner.sound.aim import Aim
from droner.sound.levels import CEILING_DB, factor
from droner.sound.voice import Amounts, Counts, Flags, Peaks

MOST_CLICKS_GIVE_DB, TRIED_DB = 12.0, 0.5
"""Clicks are never turned down further against the rest. Our choice: they stay the sharpest sound of the track."""
LEAST_GIVING = factor(-MOST_CLICKS_GIVE_DB)
TRIED = tuple(factor(-TRIED_DB * step) for step in range(int(MOST_CLICKS_GIVE_DB / TRIED_DB) + 1))
MOST_STEPS = 8
ROUNDING = 1e-4
"""A thousandth of a decibel."""


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

    def over(self, ceiling: float) -> Flags:
        """Where the sum of both passes the ceiling."""
        return self.held + self.clicks > ceiling

    def highest(self, giving: float) -> float:
        """The highest sum while the clicks are at a factor."""
        return float(np.max(self.held + giving * self.clicks, initial=0.0))

    def room(self, ceiling: float) -> float:
        """The factor at which the clicks stay under the ceiling, or the least that they may be at."""
        over = self.over(ceiling) & (self.clicks > 0)
        room = (ceiling - self.held[over]) / self.clicks[over]
        return float(np.clip(room.min(), LEAST_GIVING, 1.0)) if len(room) else 1.0

    def and_more(self, others: Heights) -> Heights:
        """Both, less every pair of which another is as high in both: it sets no gain."""
        held, clicks = np.append(self.held, others.held), np.append(self.clicks, others.clicks)
        order = np.lexsort((-clicks, -held))
        held, clicks = held[order], clicks[order]
        is_higher = np.diff(np.maximum.accumulate(clicks), prepend=-1.0) > 0
        return Heights(held[is_higher], clicks[is_higher])


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


def gains(aim: Aim, heights: Heights) -> Gains:
    """The gain that is wished for, or as near to it as the ceiling lets the track come.

    Of what the clicks may be at, the loudest at which the track is on its target; if there is none, the track is as
    loud as its tones alone should be.
    """
    is_sure = aim.is_firm if aim.is_firm(0.0) else _always
    for giving in (_settled(aim, heights), *TRIED):
        wished = aim.wished(giving)
        fits = heights.highest(giving) <= ceiling_at(wished) * (1 + ROUNDING)
        if fits and aim.is_met(giving) and is_sure(giving):
            return Gains(wished, giving, is_short=heights.room(ceiling_at(wished)) <= LEAST_GIVING)
    ceiling = ceiling_at(aim.alone)
    giving = heights.room(ceiling)
    less = min(1.0, ceiling / (heights.highest(giving) or 1.0))
    return Gains(aim.alone * less, giving, is_short=less < 1 or giving <= LEAST_GIVING)


def _settled(aim: Aim, heights: Heights) -> float:
    """Where clicks come to that give what the track needs, which needs a little more without what they gave."""
    giving, most = 1.0, aim.most
    for _ in range(MOST_STEPS):
        room = heights.room(ceiling_at(min(aim.wished(giving), most)))
        if room >= giving:
            break
        giving = room
    return giving


def _always(_: float) -> bool:
    return True


def ceiling_at(gain: float) -> float:
    """How high a track may rise before it is made louder by a gain."""
    return factor(CEILING_DB) / gain
