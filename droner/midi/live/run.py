"""Keep the place in the piece that is being played, by the clock.

Rule    a message is due at the beginning plus its own moment; the beginning moves only when the music is paused,
        taken elsewhere, or the machine itself slept. So nothing adds up.
Units   nanoseconds of the clock; seconds and beats of the piece.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from droner.live.words import Place
from droner.midi.live.endless import Music
from droner.midi.live.moments import NANOSECONDS, Moment, nanoseconds
from droner.units import Beats, Seconds


class Run:
    """One piece on its way. `begins_ns` is when its second 0 is, or was, or would have been."""

    def __init__(self, piece: Music, rest: Iterable[Moment], begins_ns: int) -> None:
        self.piece = piece
        self.begins_ns = begins_ns
        self.paused_at: Seconds | None = None
        self._sent_to = Seconds(0)
        self._coming = iter(rest)
        self._next = next(self._coming, None)
        self._ends_ns = None if piece.duration is None else nanoseconds(piece.duration)

    @property
    def over(self) -> bool:
        """Whether all is sent, and only the end of the piece is waited for."""
        return self._next is None

    @property
    def due_ns(self) -> int | None:
        """When the next message is due, or the end; None while paused, and where neither comes."""
        if self.paused_at is not None:
            return None
        due_ns = self._ends_ns if self._next is None else self._next.due_ns
        return None if due_ns is None else self.begins_ns + due_ns

    def take(self) -> list[bytes]:
        """The messages that are due together next, those without bytes left out; what comes after them is next."""
        taken: list[bytes] = []
        due_ns = None if self._next is None else self._next.due_ns
        while self._next is not None and self._next.due_ns == due_ns:
            if self._next.wire:
                taken.append(self._next.wire)
            self._sent_to, self._next = self._next.second, next(self._coming, None)
        return taken

    def second_at(self, now_ns: int) -> Seconds:
        """The second of the piece at a moment of the clock, within the piece."""
        if self.paused_at is not None:
            return self.paused_at
        within = max(now_ns - self.begins_ns, 0)
        return Seconds(Fraction(within if self._ends_ns is None else min(within, self._ends_ns), NANOSECONDS))

    def sent_to(self, now_ns: int) -> Beats:
        """The moment up to which all has been sent, when all was sent that is due by now."""
        return self.piece.tempo_map.beats_at(max(self.second_at(now_ns), self._sent_to))

    def place_at(self, now_ns: int) -> Place:
        """The place at a moment of the clock."""
        moment = self.piece.tempo_map.beats_at(self.second_at(now_ns))
        return Place(moment, *self.piece.bar_at(moment), self.paused_at is not None)
