"""Put FluidSynth at the end of the cable, on a JACK server of our own, and record what it sends to its loudspeakers.

Rule    droner reaches it through its MIDI port alone. What is not droner's (the yardstick, the disorder that somebody
        left) comes through FluidSynth's own shell, on its stdin. The recording is made in a third process, and made
        again when the server itself says that a period was lost in it.
Units   channels 0..15, as its shell counts them; samples at 48 kHz, both loudspeakers averaged.
Source  FluidSynth 2.3, with the FluidR3_GM bank, reverb and chorus off; JACK 2 with its dummy driver.
"""

from __future__ import annotations

import os
import subprocess
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from tests.midi.live.jack import ENDS_WITHIN_S, FIRST, jack_server
from tests.midi.synthesiser import BANK, Samples, need_bank
from tests.parts import need
from tests.sound.live.listening import Listener, listener, need_library

NAME = "droner-test-fluid"
CHANNELS = 16
PERIOD_FRAMES = 1024
"""Nobody measures time here: a long period is seldom lost."""
GAIN = "0.4"
"""Of FluidSynth, that six tones at once stay well below full scale."""
FALLS_SILENT_S = 0.5
"""How long the recording goes on after what is played has ended."""
TRIES = 4


@dataclass(frozen=True, slots=True)
class Recording:
    """What was heard from the first sound on, and its last part, after what was played had ended."""

    held: Samples
    afterwards: Samples
    voices: int


class Fluid:
    """The synthesiser: its MIDI port, its shell, its loudspeakers."""

    def __init__(self, process: subprocess.Popen[str], ear: Listener, folder: Path) -> None:
        self._process, self._ear, self._folder = process, ear, folder
        self.tell()  # its shell answers when the bank is read and its ports are there

    def tell(self, *lines: str) -> list[str]:
        """Say lines to its shell. What it answered, when all are done."""
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        print(*lines, "echo all-done", sep="\n", file=self._process.stdin, flush=True)
        answers: list[str] = []
        while (line := self._process.stdout.readline()).strip().removeprefix("> ") != "all-done":
            assert line, "FluidSynth has ended"
            answers.append(line.strip())
        return answers

    def recorded(self, play: Callable[[], None]) -> Recording:
        """What is heard of a fresh instrument while something is played, and a little longer."""
        for _ in range(TRIES):
            self.tell("reset")  # a note whose end the server lost would sound on in the next recording
            lost = self._ear.ask("lost")
            self._ear.ask("again")
            play()
            ended = self._ear.ask("count")
            time.sleep(FALLS_SILENT_S)
            heard = np.asarray(self._ear.heard(self._folder).mean(axis=1), dtype=np.float64)
            if self._ear.ask("lost") == lost:
                break
            print("the server lost a period; recorded again")
        return Recording(heard[:ended], heard[ended:], self._voices())

    def _voices(self) -> int:
        """How many voices of the synthesiser are still at work, by its own count."""
        counted = "voice_count: "
        return next(int(line[len(counted) :]) for line in self.tell("voice_count") if line.startswith(counted))


@contextmanager
def fluid_on_jack(folder: Path) -> Iterator[Fluid]:
    """FluidSynth ready to play; the server's surroundings stand in this process too, so that droner finds its port."""
    program = need("fluidsynth")
    need_bank()
    need_library("jack")
    with (
        jack_server(folder, PERIOD_FRAMES) as surroundings,
        pytest.MonkeyPatch.context() as patched,
        listener("ear", surroundings) as ear,
    ):
        for name, value in surroundings.items():
            patched.setenv(name, value)
        with _running(program, folder, surroundings) as process:
            fluid = Fluid(process, ear, folder)
            _plug_in()
            yield fluid


@contextmanager
def _running(program: str, folder: Path, surroundings: dict[str, str]) -> Iterator[subprocess.Popen[str]]:
    effects_off = ("-R", "0", "-C", "0")
    on_jack = ("-a", "jack", "-m", "jack", "-o", f"audio.jack.id={NAME}", "-o", f"midi.jack.id={NAME}")
    with (
        (folder / "fluidsynth.log").open("w") as log,
        subprocess.Popen(
            [*FIRST, program, "-q", *on_jack, "-r", "48000", *effects_off, "-g", GAIN, str(BANK)],
            env=os.environ | surroundings,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=log,
            text=True,
        ) as process,
    ):
        try:
            yield process
        finally:
            _end(process)


def _end(process: subprocess.Popen[str]) -> None:
    """In order: a client that dies in the middle of a period takes the server along."""
    assert process.stdin is not None
    with suppress(OSError):  # it has ended already
        print("quit", file=process.stdin, flush=True)
    try:
        process.wait(ENDS_WITHIN_S)
    except subprocess.TimeoutExpired:
        process.kill()


def _plug_in() -> None:
    """The cables from its loudspeakers to the ear."""
    import jack

    client = jack.Client("cables", no_start_server=True)
    loudspeakers = client.get_ports(NAME, is_audio=True, is_output=True)
    for port, ear in zip(loudspeakers, ("ear:in0", "ear:in1"), strict=True):
        client.connect(port, ear)
    client.close()
