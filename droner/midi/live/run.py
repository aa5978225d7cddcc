"""Keep the place in the piece that is being played, by the clock.

Rule    a message is due at the beginning plus its own moment; the beginning moves only when the music is paused,
        taken elsewhere, or the machine itself slept. So nothing adds up.
Units   nanoseconds of the clock; seconds and beats of the piece.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from droner.midi.live.moments import NANOSECONDS, Moment, Piece, nanoseconds
from droner.units import Beats, Seconds


@dataclass(frozen=True, slots=True)
class Place:
    """Where the music is: the beat from the start, and bar and beat as the page counts them (0, 0 off the page)."""

    moment: Beats
    bar: int
    beat: int
    paused: bool


class Run:
    """One piece on its way. `begins_ns` is when its second 0 is, or was, or would have been."""

    def __init__(self, piece: Piece, rest: tuple[Moment, ...], begins_ns: int) -> None:
        self.piece = piece
        self.begins_ns = begins_ns
        self.paused_at: Seconds | None = None
        self._rest = rest
        self._ends_ns = nanoseconds(piece.duration)
        self._next = 0

    @property
    def over(self) -> bool:
        """Whether all is sent, and only the end of the piece is waited for."""
        return self._next == len(self._rest)

    @property
    def due_ns(self) -> int | None:
        """When the next message is due, or the end; None while paused."""
        if self.paused_at is not None:
            return None
        return self.begins_ns + (self._ends_ns if self.over else self._rest[self._next].due_ns)

    def take(self) -> bytes:
        """The next message, which is then no longer next."""
        wire = self._rest[self._next].wire
        self._next += 1
        return wire

    def second_at(self, now_ns: int) -> Seconds:
        """The second of the piece at a moment of the clock, within the piece."""
        if self.paused_at is not None:
            return self.paused_at
        within = min(max(now_ns - self.begins_ns, 0), self._ends_ns)
        return Seconds(Fraction(within, NANOSECONDS))

    def place_at(self, now_ns: int) -> Place:
        """The place at a moment of the clock."""
        moment = self.piece.tempo_map.beats_at(self.second_at(now_ns))
        bar = next((bar for bar in reversed(self.piece.bars) if bar.onset <= moment), None)
        if bar is None:
            return Place(moment, 0, 0, self.paused_at is not None)
        beat = (moment - bar.onset).ratio(bar.meter.beat) // 1 + 1
        return Place(moment, bar.number, beat, self.paused_at is not None)
