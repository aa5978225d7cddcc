"""Be a pedal of JACK, in a process of its own.

Rule    what is sent is written as hex, one message after another.
"""

from __future__ import annotations

import subprocess
import sys

from tests.cli.programs import surroundings

FOOT = """
import sys, rtmidi
foot = rtmidi.MidiOut(rtmidi.API_UNIX_JACK, "foot")
foot.open_virtual_port("out")
print("ready", flush=True)
for line in sys.stdin:
    foot.send_message(bytes.fromhex(line))
"""


class Foot:
    """A pedal of JACK, in a process of its own."""

    def __init__(self, jack: dict[str, str]) -> None:
        self._process = subprocess.Popen(
            [sys.executable, "-c", FOOT],
            env=surroundings(**jack),
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        assert self._process.stdout is not None
        assert self._process.stdout.readline() == "ready\n"

    def send(self, *wires: str) -> None:
        assert self._process.stdin is not None
        for wire in wires:
            print(wire, file=self._process.stdin, flush=True)

    def close(self) -> None:
        self._process.kill()
        self._process.communicate()
