"""Play a live day on a MIDI port.

Rule    what stands in a MIDI file of the day is what is sent, but for the solo, which is the player's: it is sent only
        where the guide plays along. MIDI clock runs while an item plays, not in the pauses between.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from droner.cli.play_scores import drone_alone
from droner.live.words import Act, ChangeTo
from droner.midi.live.moments import Piece, piece
from droner.midi.live.player import Player
from droner.midi.live.port import OutputPort

if TYPE_CHECKING:
    from droner.cli.play_output import Ended
    from droner.live.words import Asked, Obey, Place
    from droner.midi.balance import Balance
    from droner.score.score import Score, Tone


class MidiOutput:
    """A port, and the player on it."""

    go_on, pause, stop = Act.GO_ON, Act.PAUSE, Act.STOP

    def __init__(self, player: Player, balance: Balance, *, clock: bool) -> None:
        self._player, self._balance, self._clock = player, balance, clock
        self._sent = self._late = 0
        self._worst_ms = 0.0

    def ready(self, score: Score) -> Piece:
        """A score made ready to be played."""
        return piece(score, self._balance, clock=self._clock)

    def standing(self, score: Score, tones: Sequence[Tone]) -> Piece:
        """Some tones alone, held as long as anybody practises."""
        return piece(drone_alone(score, tones), self._balance)

    def silence(self, score: Score) -> Piece:
        """A score without a sound."""
        return piece(score, self._balance)

    def change_to(self, piece: Piece) -> ChangeTo[Piece]:
        """Begin another piece now."""
        return ChangeTo(piece)

    def play(self, piece: Piece, asked: Asked, obey: Obey) -> Ended:
        """Play a piece until it ends or is ended."""
        ended = self._player.play(piece, asked, obey)
        timing = ended.timing
        self._sent, self._late = self._sent + timing.sent, self._late + timing.late
        self._worst_ms = max(self._worst_ms, timing.worst_ms)
        return ended

    @property
    def place(self) -> Place | None:
        """Where the music is."""
        return self._player.place

    @property
    def trouble(self) -> str:
        """Whether the port is away."""
        return "the MIDI port has gone; the music goes on, and is heard again when it is back" * self._player.port_gone

    @property
    def timing(self) -> dict[str, Any]:
        """Messages sent at their moment, those over a millisecond late, the worst."""
        return {"messages": self._sent, "late": self._late, "worst_ms": round(self._worst_ms, 3)}

    @property
    def timing_words(self) -> str:
        """The same in words."""
        if not self._late:
            return "everything was sent in time"
        worst = f"the latest by {self._worst_ms:.1f} ms"
        return f"{self._late} of {self._sent} messages went out over a millisecond late, {worst}"


@contextmanager
def midi_output(port: OutputPort, idle: Callable[[], None], balance: Balance, *, clock: bool) -> Iterator[MidiOutput]:
    """A player on a port that is open. At the end it is silent, and the port may be closed."""
    with Player(port.send, look=port.look, idle=idle) as player:
        yield MidiOutput(player, balance, clock=clock)
