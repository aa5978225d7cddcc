"""Say what a live day needs of what it plays on: a MIDI port, or the loudspeaker.

Rule    both play pieces made of scores, take commands from a queue, and are silent whenever `play` has come back. A
        deed is what the music does about a command; each output has its own, so they are asked for here.
Units   places in quarter notes from the start of the piece (Beats).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Protocol

from droner.live.words import Act, Asked, Deed, Obey, Place
from droner.score.score import Score, Tone
from droner.units import Beats

Piece = Any


class Ended(Protocol):
    """How a piece ended: played out, or by a command; and where."""

    @property
    def finished(self) -> bool:
        """Whether it was played out."""

    @property
    def command(self) -> Any:
        """The command that ended it."""

    @property
    def at(self) -> Beats:
        """Where."""


class Output(Protocol):
    """What a live day is played on."""

    go_on: Act
    pause: Act
    stop: Act

    def ready(self, score: Score) -> Piece:
        """A score made ready to be played."""

    def standing(self, score: Score, tones: Sequence[Tone]) -> Piece:
        """Some tones of a score alone, held without end, as loud as they are in it."""

    def silence(self, score: Score) -> Piece:
        """A score without a sound, made ready."""

    def change_to(self, piece: Piece) -> Deed:
        """Begin another piece now, without a gap."""

    def play(self, piece: Piece, asked: Asked, obey: Obey) -> Ended:
        """Play a piece until it ends or is ended."""

    @property
    def place(self) -> Place | None:
        """Where the music is; None when nothing plays."""

    @property
    def trouble(self) -> str:
        """What is wrong with the machine, in words; "" when nothing is."""

    @property
    def timing(self) -> dict[str, Any]:
        """How well the moments were met so far, for programs."""

    @property
    def timing_words(self) -> str:
        """The same in words."""
