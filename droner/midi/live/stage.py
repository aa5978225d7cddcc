"""Set up for live playing: the port open, the pedal heard, the player ready; and take it all down in silence.

Rule    the player is closed before its port, so that the last messages arrive. A pedal's port that vanishes is looked
        for and opened again like the other.

    asked = SimpleQueue()
    with on_stage("fluid", asked=asked, pedal="foot", mapping=mapping) as player:
        player.play(piece(score), asked)
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager

from droner.live.words import Asked
from droner.midi.live.hands import Hands, Mapping
from droner.midi.live.player import Player
from droner.midi.live.port import InputPort, OutputPort
from droner.midi.live.port_watch import LOOK_WITHIN_NS, PortWatch


@contextmanager
def on_stage(
    wanted: str = "",
    *,
    asked: Asked,
    of_our_own: bool = False,
    pedal: str | None = None,
    mapping: Mapping = Mapping(),  # noqa: B008 - an empty mapping never changes
) -> Iterator[Player]:
    """A player on the port called `wanted`, or on one of our own with that name; its pedal gives to `asked`.

    MachineError when a port cannot be opened, or the library is missing.
    """
    with ExitStack() as stage:
        port = stage.enter_context(OutputPort.of_our_own(wanted) if of_our_own else OutputPort.called(wanted))
        listen = _listener(stage.enter_context(InputPort.called(pedal)), mapping, asked) if pedal is not None else None
        yield stage.enter_context(Player(port.send, look=port.look, idle=listen))


def _listener(pedal: InputPort, mapping: Mapping, asked: Asked) -> Callable[[], None]:
    hands, watch = Hands(mapping), PortWatch(pedal.look, time.monotonic_ns())

    def listen() -> None:
        watch.is_back(time.monotonic_ns(), LOOK_WITHIN_NS)
        hands.poll(pedal.receive, asked.put)

    return listen
