"""Say what has no end, and how it is taken up by another of its kind while it sounds.

Rule    time runs on through a change: before it the moments are those of what sounded. What sounds and does not stay
        is ended once the new has begun.
Units   beats and seconds from the start of the first of them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Protocol, runtime_checkable

from droner.midi.live.entry import Entry, entry
from droner.midi.live.moments import Moment, Piece
from droner.midi.live.silence import SoundingKey
from droner.score.tempo_map import TempoMap
from droner.units import Beats, Seconds


@runtime_checkable
class Endless(Protocol):
    """A standing drone or click."""

    @property
    def title(self) -> str:
        """What is shown."""

    @property
    def tempo_map(self) -> TempoMap:
        """Where its beats fall."""

    @property
    def duration(self) -> None:
        """It has no end."""

    def bar_at(self, moment: Beats) -> tuple[int, int]:
        """The number of the bar and of the beat in it, from 1; (0, 0) off the page."""

    def entry(self, second: Seconds) -> Entry:
        """How to come in at a second."""

    def after(self, sounding: Music, moment: Beats) -> TakenUp | None:
        """This, coming in after a moment up to which all is sent of what sounds; None for what is of another kind."""


Music = Piece | Endless


@dataclass(frozen=True, slots=True)
class TakenUp:
    """What goes on: the piece, what is sent at once, which notes stay, and what is still to come."""

    piece: Endless
    at_once: tuple[bytes, ...]
    stays: tuple[SoundingKey, ...]
    rest: Iterable[Moment]


def entered(music: Music, second: Seconds = Seconds(0)) -> Entry:  # noqa: B008 - an exact zero never changes
    """How to come into any music at a second."""
    return entry(music, second) if isinstance(music, Piece) else music.entry(second)
