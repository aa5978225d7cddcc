"""Every note of a material inside a compass: the stairs that a path walks on.

Rule    the same stair has a rising and a falling spelling (melodic minor, chromatic); a stair is kept only if both
        lie inside the compass. Stairs are counted from 0 at the bottom; `home` is the lowest tonic.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from droner.theory.instrument import Range
from droner.theory.pitch import Interval, NoteName, Pitch


@dataclass(frozen=True, slots=True)
class Stairs:
    """Stairs inside a compass, with `octave` of them to an octave. `home` is -1 when no tonic fits."""

    rising: tuple[Pitch, ...]
    falling: tuple[Pitch, ...]
    home: int
    octave: int
    tonic: NoteName

    @property
    def top(self) -> int:
        """The highest stair."""
        return len(self.rising) - 1

    def at(self, place: int, *, falling: bool) -> Pitch:
        """The pitch of one stair, as spelled in that direction."""
        return (self.falling if falling else self.rising)[place]

    def below(self, inner: Stairs) -> int:
        """How many of these stairs lie below the lowest of `inner`, the same material inside a compass."""
        return self.rising.index(inner.rising[0])

    def homes(self) -> tuple[int, ...]:
        """Every stair that is a tonic, from the lowest."""
        return tuple(place for place, pitch in enumerate(self.rising) if pitch.name == self.tonic)


@lru_cache(maxsize=4096)
def stairs(tonic: NoteName, rising: tuple[Interval, ...], falling: tuple[Interval, ...], compass: Range) -> Stairs:
    """The stairs of intervals above every octave of `tonic` that lie inside the compass."""
    bottom, top = compass.low.midi, compass.high.midi
    grounds = map(tonic.in_octave, range(bottom // 12 - 3, top // 12 + 1))
    steps = [*zip(rising, falling, strict=True)]
    risen = [(ground + up, ground, up, down) for ground in grounds for up, down in steps]
    pairs = [(high, high if up is down else ground + down) for high, ground, up, down in risen]
    inside = [(up, down) for up, down in pairs if bottom <= min(up.midi, down.midi) and max(up.midi, down.midi) <= top]
    ups = tuple(up for up, _ in inside)
    home = next((place for place, pitch in enumerate(ups) if pitch.name == tonic), -1)
    return Stairs(ups, tuple(down for _, down in inside), home, len(rising), tonic)
