"""Play a live day through the loudspeaker.

Rule    what is heard is what stands in the audio file of the item, sample for sample. The drone alone is as loud as it
        is in the item.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from droner.live.machine_time import undisturbed
from droner.live.noted_signals import noted_signals
from droner.live.words import Act, ChangeTo
from droner.sound.live.device import Speaker
from droner.sound.live.endless import standing_drone
from droner.sound.live.piece import piece
from droner.sound.live.player import Player

if TYPE_CHECKING:
    from droner.cli.play_output import Ended
    from droner.live.words import Asked, Obey, Place
    from droner.score.score import Score, Tone
    from droner.sound.live.source import Source
    from droner.sound.mix import Mix


class SpeakerOutput:
    """A loudspeaker, and the player on it."""

    go_on, pause, stop = Act.GO_ON, Act.PAUSE, Act.STOP

    def __init__(self, player: Player, mix: Mix) -> None:
        self._player, self._mix = player, mix
        self._late = self._lost = 0
        self._silent_ms = 0.0

    def ready(self, score: Score) -> Source:
        """A score made ready to be played."""
        return piece(score, self._mix, self._player.rate_hz)

    def standing(self, score: Score, tones: Sequence[Tone]) -> Source:
        """Some tones alone, without end."""
        return standing_drone(replace(score, drone=tuple(tones)), self._mix, self._player.rate_hz)

    silence = ready

    def change_to(self, piece: Source) -> ChangeTo[Source]:
        """Begin another piece now."""
        return ChangeTo(piece)

    def play(self, piece: Source, asked: Asked, obey: Obey) -> Ended:
        """Play a piece until it ends or is ended."""
        ended = self._player.play(piece, asked, obey)
        broken = ended.under_runs
        self._late, self._lost = self._late + broken.late, self._lost + broken.lost
        self._silent_ms += broken.silent_ms
        return ended

    @property
    def rate_hz(self) -> int:
        """The rate that pieces must be made at."""
        return self._player.rate_hz

    @property
    def place(self) -> Place | None:
        """Where the music is."""
        return self._player.place

    @property
    def trouble(self) -> str:
        """A loudspeaker that fails ends the music."""
        return ""

    @property
    def timing(self) -> dict[str, Any]:
        """How often the sound broke."""
        return {"breaks": self._late, "silent_ms": round(self._silent_ms, 1), "lost_by_the_system": self._lost}

    @property
    def timing_words(self) -> str:
        """The same in words."""
        if not self._late and not self._lost:
            return "the sound never broke"
        return (
            f"the sound broke {self._late} times, {self._silent_ms:.0f} ms in all; the system lost {self._lost} moments"
        )


@contextmanager
def speaker_output(speaker: Speaker, idle: Callable[[], None], mix: Mix) -> Iterator[SpeakerOutput]:
    """A player on a loudspeaker."""
    with Player(speaker, noted_signals=noted_signals, undisturbed=undisturbed, idle=idle) as player:
        yield SpeakerOutput(player, mix)
