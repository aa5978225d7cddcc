"""A chord of the changes, and how far its tones have moved.

Rule    the anchored place of a tone is where the chord stands on a tonic that never moves: `pure_chord`. A chord has
        drifted as far as its root, on which it stands.
Units   hertz; cents, negative below.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from droner.theory.cents import cents_between

if TYPE_CHECKING:
    from droner.score.score import ChordEvent
    from droner.theory.pitch import NoteName


@dataclass(frozen=True, slots=True)
class TunedChord:
    """A chord as it sounds. `anchored_hz`: the anchored place of each of its tones; `root` as it sounds."""

    event: ChordEvent
    anchored_hz: tuple[float, ...]
    root: NoteName

    @property
    def moved_cents(self) -> tuple[float, ...]:
        """How far each tone sounds above its anchored place."""
        tones = zip(self.event.tones, self.anchored_hz, strict=True)
        return tuple(cents_between(anchored, tone.hz) for tone, anchored in tones)

    @property
    def drift_cents(self) -> float:
        """How far the chord has gone from its anchored place."""
        moved = zip(self.event.tones, self.moved_cents, strict=True)
        return next(cents for tone, cents in moved if tone.pitch.name == self.root)
