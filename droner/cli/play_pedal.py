"""Hear a pedal while a day is played live.

Rule    a pedal whose port vanishes is looked for, and opened again when it is back.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from droner.cli.play_pedal_file import pedal_file, pedal_mapping
from droner.midi.live.hands import Hands
from droner.midi.live.port import InputPort
from droner.midi.live.port_watch import LOOK_WITHIN_NS, PortWatch

if TYPE_CHECKING:
    from droner.live.words import Asked


@contextmanager
def pedal_listener(wanted: str, asked: Asked) -> Iterator[Callable[[], None]]:
    """What is called between two messages: it fetches the presses, and puts their commands into the queue."""
    hands = Hands(pedal_mapping(pedal_file()))
    with InputPort.called(wanted) as pedal:
        watch = PortWatch(pedal.look, time.monotonic_ns())

        def listen() -> None:
            watch.is_back(time.monotonic_ns(), LOOK_WITHIN_NS)
            hands.poll(pedal.receive, asked.put)

        yield listen
