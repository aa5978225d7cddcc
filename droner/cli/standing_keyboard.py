"""Hear the keys held on a MIDI keyboard while a drone sounds.

Rule    a keyboard that vanishes is looked for, and opened again when it is back; what it held then stands.
"""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from droner.cli.standing_wishes import Held
from droner.midi.live.held_keys import HeldKeys
from droner.midi.live.port import InputPort
from droner.midi.live.port_watch import LOOK_WITHIN_NS, PortWatch

if TYPE_CHECKING:
    from droner.live.words import Asked


class Keyboard:
    """A keyboard that is listened to between two messages."""

    def __init__(self, port: InputPort, asked: Asked) -> None:
        self._port, self._asked = port, asked
        self._keys = HeldKeys()
        self._watch = PortWatch(port.look, time.monotonic_ns())

    @property
    def gone(self) -> bool:
        """Whether its port has vanished."""
        return self._watch.gone

    def listen(self) -> None:
        """Fetch what has come, and put what is held into the queue."""
        self._watch.is_back(time.monotonic_ns(), LOOK_WITHIN_NS)
        if self._watch.take_back():
            self._keys.let_go()
        self._keys.poll(self._port.receive, lambda keys: self._asked.put(Held(keys)))


@contextmanager
def keyboard(wanted: str, asked: Asked) -> Iterator[Keyboard]:
    """The keyboard whose name, or part of a name, is given. MachineError with what there is."""
    with InputPort.called(wanted) as port:
        yield Keyboard(port, asked)
