"""Ask for each command in turn on a pedal, and keep the answer.

Rule    a command that gets no press within ten seconds, or Enter instead, has none. A pedal that has a command already
        keeps it: that is said, and another is waited for. q ends the asking; what was learned by then is kept. After
        each press its release and its bounces are passed over.
Units   seconds.
"""

from __future__ import annotations

import sys
import time
from contextlib import suppress
from functools import partial
from typing import TYPE_CHECKING

from droner.cli.keys import Keys
from droner.cli.play_pedal_file import pedal_file, write_mapping
from droner.cli.play_signals import Sleeper, ending_in_order, undisturbed_end
from droner.cli.screen import show, show_json, tell
from droner.cli.table import table
from droner.errors import MachineError
from droner.midi.live.commands import Command
from droner.midi.live.hands import LISTEN_S, Mapping, learn
from droner.midi.live.port import InputPort

if TYPE_CHECKING:
    from collections.abc import Callable

    from droner.midi.live.hands import Press

WITHIN_S = 10.0
PASSED_OVER_S = 0.4
ENTER = frozenset("\r\n")
ENDS = "q"


class _Skipped(Exception):  # noqa: N818 - no error: the player has no pedal for it
    """Enter was pressed."""


class _Finished(Exception):  # noqa: N818 - no error: the player has no more pedals
    """q was pressed."""


def learn_pedal(wanted: str, *, as_json: bool, quiet: bool) -> None:
    """Ask, write down, show. MachineError when nothing was heard at all."""
    signs: list[str] = []
    with InputPort.called(wanted) as pedal, ending_in_order():
        keys = Keys(signs.append)
        sleeper = Sleeper(keys)
        with undisturbed_end(partial(_given_back, sleeper, keys)):
            keys.start()
            sleeper.start()
            tell(
                f"Listening to {pedal.port}. Press what shall give each command.\n"
                f"Enter leaves one out; so do {WITHIN_S:g} seconds. q keeps what there is, and ends.",
                quiet=quiet,
            )
            mapping = _asked(pedal.receive, signs, sleeper.watch)
    if not mapping.pairs:
        raise MachineError(f"nothing was heard from {pedal.port}; what was learned before stays")
    file = pedal_file()
    write_mapping(file, mapping)
    _show(mapping, as_json=as_json)
    tell(f"written to {file}; droner play --pedal listens to it", quiet=quiet)


def _given_back(sleeper: Sleeper, keys: Keys) -> None:
    sleeper.close()
    keys.close()


def _asked(receive: Callable[[], bytes | None], signs: list[str], watch: Callable[[], None]) -> Mapping:
    def hear() -> bytes | None:
        watch()
        sign = signs.pop(0) if signs else ""
        if sign in ENTER:
            raise _Skipped
        if sign == ENDS:
            raise _Finished
        return receive()

    mapping = Mapping()
    with suppress(_Finished):
        for command in Command:
            press = _free_press(command, hear, mapping)
            if press:
                mapping = mapping.with_pair(press, command)
            tell(f"    {press or 'none'}")
            _pass_over(receive)
    return mapping


def _free_press(command: Command, hear: Callable[[], bytes | None], mapping: Mapping) -> Press | None:
    """The press for a command, of a pedal that has none yet."""
    tell(f"{command.value}: press the pedal for it")
    until = time.monotonic() + WITHIN_S
    with suppress(_Skipped):
        while press := learn(hear, until - time.monotonic()):
            taken = mapping.command(press)
            if taken is None:
                return press
            tell(f"    {press} gives {taken.value!r} already: press another for {command.value!r}, or Enter for none")
            _pass_over(hear)
    return None


def _pass_over(receive: Callable[[], bytes | None]) -> None:
    until = time.monotonic() + PASSED_OVER_S
    while time.monotonic() < until:
        if receive() is None:
            time.sleep(LISTEN_S)
    sys.stderr.flush()


def _show(mapping: Mapping, *, as_json: bool) -> None:
    if as_json:
        show_json(
            [
                {"command": command.value, press.thing.value: press.number, "channel": press.channel}
                for press, command in mapping.pairs
            ]
        )
    else:
        show(table([(command.value, str(press)) for press, command in mapping.pairs]))
