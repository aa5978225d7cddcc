"""Say how much louder a track must be made to reach its loudness, whatever its clicks give.

Rule    clicks count less the softer they are; softer still, and the gate leaves out what only they fill. A long stretch
        of clicks that just passes the gate brings the mean of the whole far down: a drone that sounds but before the
        notes would then have to be many times too loud. So a track is on its target only where it needs no more than
        its tones alone would, and firmly so only where a gate a little higher or lower would find the same.
Units   gains are factors of amplitude; blocks are mean powers of 400 ms, weighted; loudness in LUFS.
Source  see `loudness`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from droner.sound.levels import factor
from droner.sound.loudness import gated_lufs
from droner.sound.voice import Amounts

UNSURE_LU = 0.5
"""So far from our own reckoning a meter may see a block, next to the gate."""
SAME_LU = 0.1
"""What may not be told apart: half of what a measure for control allows."""


@dataclass(frozen=True, slots=True)
class Aim:
    """What sounds in every block, tones and clicks, and the loudness to come to; None: nothing is to be made louder."""

    tones: Amounts
    clicks: Amounts
    target_lufs: float | None

    @property
    def alone(self) -> float:
        """The gain that the track needs without its clicks."""
        return self.wished(0.0)

    @property
    def most(self) -> float:
        """The highest gain that counts as no more than that."""
        return self.alone * factor(SAME_LU)

    def wished(self, giving: float, gate_moved_lu: float = 0.0) -> float:
        """The gain that the track needs while its clicks are at a factor; 1 where there is no loudness."""
        if self.target_lufs is None:
            return 1.0
        lufs = gated_lufs(self.tones + giving**2 * self.clicks, gate_moved_lu)
        return factor(self.target_lufs - lufs) if np.isfinite(lufs) else 1.0

    def is_met(self, giving: float) -> bool:
        """Whether the clicks at this factor ask for no more than the tones do."""
        return self.wished(giving) <= self.most

    def is_firm(self, giving: float) -> bool:
        """Whether the blocks near the gate hardly matter."""
        lower, higher = (self.wished(giving, moved) for moved in (-UNSURE_LU, UNSURE_LU))
        return factor(-SAME_LU) < lower / higher < factor(SAME_LU)
