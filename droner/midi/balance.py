"""Set how loud each part is and where it stands.

Rule    both the drone and the player must reach the same ear, so everything stands in the middle unless asked;
        the reference stays below the solo.
Units   volume 0..127 is controller 7; pan 0 left, 64 middle, 127 right is controller 10.
"""

from __future__ import annotations

from dataclasses import dataclass

from droner.midi.channel_table import Part
from droner.midi.controller_table import CENTRE, FULL


@dataclass(frozen=True, slots=True)
class Level:
    """One part's place in the balance."""

    volume: int = 100
    pan: int = CENTRE

    def __post_init__(self) -> None:
        if not (0 <= self.volume <= FULL and 0 <= self.pan <= FULL):
            raise ValueError(f"volume and pan go from 0 to {FULL}, not {self.volume} and {self.pan}")


@dataclass(frozen=True, slots=True)
class Balance:
    """The four parts against one another."""

    solo: Level = Level(100)
    drone: Level = Level(90)
    changes: Level = Level(70)
    click: Level = Level(100)

    def of(self, part: Part) -> Level:
        """The level of one part."""
        levels = {
            Part.SOLO: self.solo,
            Part.DRONE: self.drone,
            Part.CHANGES: self.changes,
            Part.CLICK: self.click,
        }
        return levels[part]


EVEN_BALANCE = Balance()
"""What is sent when nothing is asked for."""
