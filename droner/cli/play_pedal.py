"""Hear a pedal while a day is played live.

Rule    a pedal whose port vanishes is looked for, and opened again when it is back.
"""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from droner.cli.play_pedal_file import pedal_file, pedal_mapping
from droner.midi.live.hands import Hands
from droner.midi.live.port import InputPort
from droner.midi.live.port_watch import LOOK_WITHIN_NS, PortWatch

if TYPE_CHECKING:
    from droner.live.words import Asked


class Listener:
    """Called between two messages: it fetches the presses, and puts their commands into the queue."""

    def __init__(self, pedal: InputPort, asked: Asked) -> None:
        self._hands = Hands(pedal_mapping(pedal_file()))
        self._watch = PortWatch(pedal.look, time.monotonic_ns())
        self._receive, self._put = pedal.receive, asked.put

    def __call__(self) -> None:
        """Hear what has come."""
        if self._watch.is_back(time.monotonic_ns(), LOOK_WITHIN_NS):
            self._watch.take_back()
        self._hands.poll(self._receive, self._put)

    @property
    def gone(self) -> bool:
        """Whether its port is away."""
        return self._watch.gone


@contextmanager
def pedal_listener(wanted: str, asked: Asked) -> Iterator[Listener]:
    """The pedal of that name, open."""
    with InputPort.called(wanted) as pedal:
        yield Listener(pedal, asked)
