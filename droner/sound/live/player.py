"""Play pieces through a loudspeaker, and leave nothing sounding.

Rule    the loudspeaker is open as long as the player, and hears silence between two pieces. Whatever ends the playing
        (the last sample, a command, a signal, an exception), what sounds is faded out inside `play`, before anything
        else happens; then the signal has its usual effect. `close`, which leaving the `with` block calls, and the end
        of the interpreter do as much. From a signal to silence it takes a look (5 ms), the fade (30 ms), and what the
        loudspeaker already holds. A loudspeaker that has gone away is a MachineError. SIGKILL cuts the sound off.
        `play` belongs in the main thread; a screen reads `place` from another.

    with Player(Speaker.called("usb"), noted_signals=noted_signals, undisturbed=undisturbed) as player:
        ended = player.play(piece(score, mix, player.rate_hz), asked)
"""

from __future__ import annotations

import atexit
from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from typing import Self

from droner.live.noted_signals import Noted
from droner.live.words import Asked, Obey, Place, usual
from droner.sound.live.ended import Ended
from droner.sound.live.feeder import MOST_FRAMES, Feeder
from droner.sound.live.loudspeaker import Heard, Loudspeaker
from droner.sound.live.playing import Means, Playing, wait_for_silence
from droner.sound.live.ring import Ring
from droner.sound.live.source import Source
from droner.units import Beats

BEGINNING = Beats(0)
AHEAD_S = 1
"""So much is made ahead. What is asked for never waits for it: what is ready is changed."""


def nothing_noted() -> AbstractContextManager[Noted]:
    """Leave signals as they are."""
    return nullcontext(Noted())


class Player:
    """Plays one piece after another on one loudspeaker.

    `noted_signals` notes signals while a piece plays and lets them act afterwards; `undisturbed` keeps Python from
    pausing meanwhile. `idle` is called every few milliseconds, and must be quick: it is where pedals are heard.
    """

    def __init__(
        self,
        speaker: Loudspeaker,
        *,
        noted_signals: Callable[[], AbstractContextManager[Noted]] = nothing_noted,
        undisturbed: Callable[[], AbstractContextManager[None]] = nullcontext,
        idle: Callable[[], None] | None = None,
    ) -> None:
        self._noted_signals, self._undisturbed = noted_signals, undisturbed
        self._speaker = speaker
        self._ring = Ring(AHEAD_S * speaker.rate_hz + MOST_FRAMES, speaker.channels)
        self._heard = Heard(self._ring, speaker)
        self._feeder = Feeder(self._ring)
        self._means = Means(self._ring, self._feeder, speaker, self._heard, idle)
        self._playing: Playing | None = None

    def __enter__(self) -> Self:
        try:
            self._speaker.open(self._heard.take)
        except BaseException:
            self._feeder.close()
            raise
        atexit.register(self.close)
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    @property
    def rate_hz(self) -> int:
        """The rate that pieces must be made at."""
        return self._speaker.rate_hz

    @property
    def place(self) -> Place | None:
        """Where the music that is heard stands; None when nothing plays. May be read from any thread."""
        playing = self._playing
        run = playing.run if playing else None
        return run.place_at(self._heard.frame) if run else None

    def play(self, piece: Source, asked: Asked, obey: Obey = usual, start: Beats = BEGINNING) -> Ended:
        """Play a piece from `start` until it ends or is ended; nothing sounds afterwards.

        `asked` is read all the while, and may be filled by any thread. `obey` says what the music does about a command;
        a deed in the queue is done as it is. MachineError when the loudspeaker has gone away.
        """
        with self._noted_signals() as noted, self._undisturbed():
            self._playing = Playing(self._means, noted, asked, obey)
            try:
                return self._playing.to_the_end(piece, start)
            finally:
                self._playing = None
                self._hush()

    def close(self) -> None:
        """Fade out, and give the loudspeaker back."""
        atexit.unregister(self.close)
        self._hush()
        self._feeder.close()
        self._speaker.close()

    def _hush(self) -> None:
        self._means.hush()
        wait_for_silence(self._means)
