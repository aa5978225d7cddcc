"""Play pieces through a port, and leave nothing sounding.

Rule    whatever ends the playing (the last note, a command, a signal, an exception), what sounds is ended inside
        `play`, before anything else happens. After a signal or an exception the instrument is hushed whole and given
        time to hear it; then the signal has its usual effect. So outside `play` nothing ever sounds. `close`, which
        leaving the `with` block calls, hushes too and waits, so that the port may be closed; the end of the
        interpreter does as much for a player that nobody closed. From a signal to the last byte it takes under 100 ms.
        SIGKILL, a crash of the interpreter or a power cut leave what sounds sounding: no program can help it.
        `play` notes signals only in the main thread, where it belongs; a screen reads `place` from another.

    with Player(port.send, look=port.look) as player:
        ended = player.play(piece(score), commands)
"""

from __future__ import annotations

import atexit
from collections.abc import Callable
from typing import Self

from droner.live.machine_time import Clock, MachineClock, undisturbed
from droner.live.noted_signals import noted_signals
from droner.live.words import Asked, Obey, Place, usual
from droner.midi.live.endless import Music
from droner.midi.live.playing import Ended, Means, Playing, hush_and_wait
from droner.midi.live.port_watch import PortState, PortWatch, always_there
from droner.midi.live.silence import Keeper, Send
from droner.units import Beats

BEGINNING = Beats(0)


class Player:
    """Plays one piece after another on one port.

    `send` takes the bytes of one message. `look` says whether the port is there (see `port`). `idle` is called between
    messages when at least five milliseconds are free, and must be quick: it is where pedals are heard.
    """

    def __init__(
        self,
        send: Send,
        clock: Clock | None = None,
        *,
        look: Callable[[], PortState] = always_there,
        idle: Callable[[], None] | None = None,
    ) -> None:
        self._clock = clock or MachineClock()
        self._keeper = Keeper(send)
        self._watch = PortWatch(look, self._clock.now_ns())
        self._means = Means(self._keeper, self._clock, self._watch, idle)
        self._playing: Playing | None = None

    def __enter__(self) -> Self:
        atexit.register(self._keeper.hush_for_good)
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    @property
    def place(self) -> Place | None:
        """Where the music is; None when nothing plays. May be read from any thread, a few times a second."""
        playing = self._playing
        run = playing.run if playing else None
        return run.place_at(self._clock.now_ns()) if run else None

    @property
    def port_gone(self) -> bool:
        """Whether the port has vanished; the music goes on in silence, and is heard again when the port is back."""
        return self._watch.gone

    def play(self, piece: Music, asked: Asked, obey: Obey = usual, start: Beats = BEGINNING) -> Ended:
        """Play a piece from `start` until it ends or is ended; nothing sounds afterwards.

        `asked` is read all the while, and may be filled by any thread. `obey` says what the music does about a command
        (and may write down what it likes, quickly: it runs between two messages); a deed in the queue is done as it is.
        """
        with noted_signals() as noted, undisturbed():
            self._playing = Playing(self._means, noted, asked, obey)
            try:
                ended = self._playing.to_the_end(piece, start)
            except BaseException:
                self._hush()
                raise
            finally:
                self._playing = None
            if noted.ending is None:
                self._keeper.still()
            else:
                self._hush()
            return ended

    def close(self) -> None:
        """Hush, for good, and wait until the port may be closed."""
        with noted_signals():
            atexit.unregister(self._keeper.hush_for_good)
            self._hush()
            self._keeper.hush_for_good()

    def _hush(self) -> None:
        if self._watch.gone and self._watch.is_back_at_last():
            self._keeper.hush_all()
        hush_and_wait(self._keeper, self._clock)
