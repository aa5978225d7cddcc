"""Set everything up for a drone or a click that sounds now, play it, and take everything down, whatever happens.

Rule    the output opens while the rest loads: the first tone comes as soon as the machine can. Everything is taken down
        in the opposite order of setting up, and no signal falls into that: the music is silent first, then the terminal
        is put back. Without a terminal on stdin it sounds until a signal, or for the seconds that were asked for.
Units   seconds.
"""

from __future__ import annotations

import gc
import time
from contextlib import AbstractContextManager, ExitStack, suppress
from dataclasses import dataclass
from functools import partial
from queue import SimpleQueue
from typing import TYPE_CHECKING, Any

from droner.cli.keys import Keys
from droner.cli.play_screen import Screen
from droner.cli.play_signals import ending_in_order, told_when_stopped, undisturbed_end
from droner.cli.play_terminal import taken
from droner.cli.screen import show, show_json, tell
from droner.cli.standing_face import Face, one_line, page
from droner.cli.standing_ground import Ground
from droner.cli.standing_music import port_music, sent, sounded, speaker_music
from droner.cli.standing_player import StandingPlayer
from droner.cli.standing_wishes import Wish
from droner.errors import MachineError

if TYPE_CHECKING:
    from collections.abc import Callable
    from fractions import Fraction

    from droner.cli.keys_table import Key
    from droner.cli.play_output import Output
    from droner.cli.play_paper import Paper
    from droner.cli.standing_keyboard import Keyboard
    from droner.cli.standing_music import State
    from droner.live.words import Asked

APART_S = 0.08
"""The same key again: a drone is moved by several half-steps in quick succession."""
WITHOUT_A_PORT = "--speaker plays through the loudspeaker, --own-port makes a port for others to connect to"
KEYBOARD_GONE = "the keyboard has gone; its tones stay, and it is heard again when it is back"


@dataclass(frozen=True, slots=True)
class Wanted:
    """What the command was asked for; see there. Exactly one output is asked for."""

    speaker: str | None
    port: str | None
    own_port: bool
    keyboard: str | None
    seconds: Fraction | None
    as_json: bool
    quiet: bool


def stand(wanted: Wanted, state: Callable[[], State], keys: tuple[Key, ...]) -> None:
    """The whole of it. `state` reads what sounds first, while the output opens."""
    with told_when_stopped(), ending_in_order():
        stack = ExitStack()
        with undisturbed_end(stack.close):
            # first of all: while the output opens, nobody could tell a terminal from nothing
            standing = _Standing(wanted, stack, keys)
            output_soon = _opening(wanted, stack)
            standing.play(state(), output_soon)


def _opening(wanted: Wanted, stack: ExitStack) -> Callable[[Callable[[], None]], AbstractContextManager[Any]]:
    """Begin to open the output; what it gives makes a player on it, which calls `idle` between two messages."""
    if wanted.speaker is not None:
        from droner.sound.live.device import speaker_soon  # noqa: PLC0415 - each output loads its own

        speaker = speaker_soon(wanted.speaker)

        def settled() -> None:
            with suppress(MachineError):
                speaker()

        stack.callback(settled)  # what is wrong could not be told meanwhile
        return lambda idle: speaker_music(speaker(), idle)
    from droner.cli.play_port import port_soon  # noqa: PLC0415 - as above

    opening = port_soon(wanted.port or "", stack, of_our_own=wanted.own_port)

    def on_port(idle: Callable[[], None]) -> AbstractContextManager[Any]:
        try:
            return port_music(opening.result(), idle)
        except MachineError as none:
            raise MachineError(f"{none}\n{WITHOUT_A_PORT}") from none

    return on_port


class _Standing:
    """What is being set up; what is set up later is taken down earlier."""

    def __init__(self, wanted: Wanted, stack: ExitStack, keys: tuple[Key, ...]) -> None:
        self._wanted, self._stack, self._keys = wanted, stack, keys
        self._asked: Asked = SimpleQueue()
        self._wishes = {sign: Wish(key.command) for key in keys for sign in key.sign + key.also}
        self._keyboard: Keyboard | None = None
        self._player: StandingPlayer | None = None
        self._output: Output | None = None
        self._began = 0.0
        self._hands = Keys(self._key, APART_S)
        self._screen = Screen(self._page, self._line, quiet=wanted.quiet, keys=self._hands.are_read)
        self._watch: Callable[[], None] = lambda: None

    def play(self, state: State, output_soon: Callable[[Callable[[], None]], AbstractContextManager[Any]]) -> None:
        """Set up, play, sum up."""
        self._keyboard = self._listened_to()
        output = self._output = self._stack.enter_context(output_soon(self._idle))
        self._player = StandingPlayer(state, output, self._maker(output), self._tell)
        self._watch = taken(self._stack, self._hands, self._screen).watch
        self._began = time.monotonic()
        gc.freeze()
        gc.enable()
        self._player.play(self._asked)
        seconds = time.monotonic() - self._began
        self._stack.close()
        self._sum_up(self._player.state, output, seconds)

    def _listened_to(self) -> Keyboard | None:
        if self._wanted.keyboard is None:
            return None
        from droner.cli.standing_keyboard import keyboard  # noqa: PLC0415 - only with a keyboard

        return self._stack.enter_context(keyboard(self._wanted.keyboard, self._asked))

    def _maker(self, output: Any) -> Callable[[State], Any]:
        if self._wanted.speaker is None:
            return sent
        return partial(sounded, rate_hz=output.rate_hz)

    def _tell(self, line: str) -> None:
        """Tell of each change where there is no screen."""
        tell(line, quiet=self._wanted.quiet or self._screen.is_watched)

    def _key(self, sign: str) -> None:
        if sign in self._wishes:
            self._asked.put(self._wishes[sign])

    def _idle(self) -> None:
        """Between two messages."""
        self._watch()
        if self._keyboard is not None:
            self._keyboard.listen()
        if self._wanted.seconds is not None and self._began and time.monotonic() >= self._began + self._wanted.seconds:
            self._asked.put(Wish.END)

    def _page(self, paper: Paper) -> list[str]:
        return page(self._face(), self._news(), self._keys, paper, paused=self._is_paused()) if self._player else [""]

    def _line(self) -> str:
        return one_line(self._face(), self._news(), paused=self._is_paused()) if self._player else ""

    def _face(self) -> Face:
        assert self._player is not None  # noqa: S101 - asked only then
        state = self._player.state
        face: Face = state.face if isinstance(state, Ground) else state.face(self._player.place)
        return face

    def _is_paused(self) -> bool:
        return self._player is not None and self._player.is_paused

    def _news(self) -> str:
        """What is wrong with the machine, else what was said last."""
        if self._output is not None and self._output.trouble:
            return self._output.trouble
        if self._keyboard is not None and self._keyboard.gone:
            return KEYBOARD_GONE
        return self._player.news if self._player else ""

    def _sum_up(self, state: State, output: Output, seconds: float) -> None:
        if self._wanted.as_json:
            show_json({**state.data, "seconds": round(seconds, 1), "timing": output.timing})
        else:
            show(f"{state.line}\n{output.timing_words}")
