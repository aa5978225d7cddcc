"""Say how loud each part is, where it stands, and what kind of sound is wanted.

Rule    gains are changes from each part's standing level. The whole track is brought to its loudness by one steady
        amount; where it is not `levelled`, it is only turned down so that it cannot clip. Nothing is ever limited or
        turned down for a moment.
        A part in the middle plays in both channels at its full level. Moved aside, the far channel sinks in
        a straight line and the near one stays: so no channel is ever louder than the mono mix.
Units   gain_db in decibels, -inf leaves the part out. pan -1 left, 0 middle, 1 right; mono ignores it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from droner.sound.timbre_table import DRONE_PARTIALS_DB

Channels = Literal["mono", "stereo"]


@dataclass(frozen=True, slots=True)
class EachPart:
    """One number for each part that sounds."""

    drone: float = 0.0
    changes: float = 0.0
    click: float = 0.0
    guide: float = 0.0


@dataclass(frozen=True, slots=True)
class Mix:
    """How the parts of a score are put together. The guide, which plays the solo, is off unless wanted."""

    gain_db: EachPart = EachPart()
    pan: EachPart = EachPart()
    guide: bool = False
    timbre: str = "medium"
    channels: Channels = "mono"
    levelled: bool = True

    def __post_init__(self) -> None:
        if self.timbre not in DRONE_PARTIALS_DB:
            raise ValueError(f"{self.timbre!r} is not a timbre: {', '.join(DRONE_PARTIALS_DB)}")
        if self.channels not in ("mono", "stereo"):
            raise ValueError(f"{self.channels!r} is neither mono nor stereo")
        for part in ("drone", "changes", "click", "guide"):
            if not -1.0 <= getattr(self.pan, part) <= 1.0:
                raise ValueError(f"the pan of the {part} lies between -1 and 1")

    @property
    def channel_count(self) -> int:
        """1 or 2."""
        return len(self.channel_factors(0.0))

    def channel_factors(self, pan: float) -> tuple[float, ...]:
        """What a part at `pan` gives to each channel."""
        if self.channels == "mono":
            return (1.0,)
        return min(1.0, 1.0 - pan), min(1.0, 1.0 + pan)
