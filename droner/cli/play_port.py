"""Open a MIDI port while the rest of the program loads. (Shore: one thread.)

Rule    nothing but the port is loaded first: its system takes longest.
"""

from __future__ import annotations

from contextlib import ExitStack, suppress

from droner.cli.play_work import Task, Worker
from droner.errors import MachineError
from droner.midi.live.port import OURS, OutputPort


def port_soon(wanted: str, stack: ExitStack, *, of_our_own: bool) -> Task[OutputPort]:
    """The port that is wanted, on its way to being open; closed at the end, whatever became of it.

    Its result may be a MachineError with what there is.
    """
    worker = Worker("port")
    opening = worker.submit(lambda: OutputPort.of_our_own(wanted or OURS) if of_our_own else OutputPort.called(wanted))

    def close() -> None:
        worker.finish()
        with suppress(MachineError):
            opening.result().close()

    stack.callback(close)
    return opening
