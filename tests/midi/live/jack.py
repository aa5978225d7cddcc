"""A JACK server without a sound card, and instruments on it that listen.

Rule    a period of 512 frames, 10.7 ms, in which messages are handed over once. With 64 frames (1.3 ms) a machine full
        of work was seen to lose periods, and the messages in them, since nothing here runs in real time.
Source  JACK 2 with its dummy driver.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from itertools import cycle
from pathlib import Path
from typing import Any

import pytest

from tests.parts import need

REPOSITORY = Path(__file__).resolve().parents[3]
LOG = "DRONER_TEST_JACK_LOG"
FRAMES = 512
PERIOD_S = FRAMES / 48_000
STARTS_WITHIN_S = 20
ENDS_WITHIN_S = 5
FORGOTTEN_WITHIN_S = 20
NAME_TAKEN_S = 0.3
NAME_FREE_S = 60
NAMES = tuple(f"droner-test-{number}" for number in range(6))
"""Always the same few, the first that is free: JACK keeps a register of eight names, and a server that did not end in
order leaves its name in it until one of the same name comes."""
FIRST = ("nice", "-n", "-10")
"""Server and instruments go first, where that is allowed: a client that is late loses a period of messages, and its
loss would be taken for ours. Where it is not allowed, `nice` says so on stderr and goes on (POSIX, nice)."""


def need_rtmidi() -> None:
    """The library; else the test is skipped, or fails where every part is required."""
    try:
        import rtmidi  # noqa: F401 - only whether it is there
    except ImportError:
        reason = "python-rtmidi is not installed"
        if os.environ.get("DRONER_REQUIRE_PARTS"):
            pytest.fail(reason, pytrace=False)
        pytest.skip(reason)


@contextmanager
def jack_server(folder: Path, frames: int = FRAMES) -> Iterator[dict[str, str]]:
    """A server of our own; what it gives must stand in the surroundings of whoever wants to meet it."""
    need_rtmidi()
    program = need("jackd")
    until = time.monotonic() + NAME_FREE_S
    for name in cycle(NAMES):
        assert time.monotonic() < until, "no JACK server starts"
        log = folder / f"{name}.log"
        surroundings = {"JACK_DEFAULT_SERVER": name, "JACK_NO_AUDIO_RESERVATION": "1", LOG: str(log)}
        command = [*FIRST, program, "-n", name, "--no-realtime", "-d", "dummy", "-r", "48000", "-p", str(frames)]
        with (
            log.open("w") as written,
            subprocess.Popen(command, env=os.environ | surroundings, stdout=written, stderr=written) as server,
        ):
            if not _answers(server, surroundings):
                server.kill()
                continue
            try:
                yield surroundings
            finally:
                _end(server)
            return


def _answers(server: subprocess.Popen[bytes], surroundings: dict[str, str]) -> bool:
    """Whether our own server comes up; one whose name is taken ends by itself at once."""
    time.sleep(NAME_TAKEN_S)
    knock = "import rtmidi; rtmidi.MidiOut(rtmidi.API_UNIX_JACK, 'knock')"
    until = time.monotonic() + STARTS_WITHIN_S
    while time.monotonic() < until and server.poll() is None:
        knocked = subprocess.run(
            [sys.executable, "-c", knock], env=os.environ | surroundings, check=False, capture_output=True
        )
        if knocked.returncode == 0:
            return server.poll() is None
        time.sleep(0.1)
    return False


def _end(server: subprocess.Popen[bytes]) -> None:
    server.terminate()
    try:
        server.wait(ENDS_WITHIN_S)
    except subprocess.TimeoutExpired:  # seen when clients had died in the middle of a period
        server.kill()


def _is_listed(name: str, surroundings: dict[str, str]) -> bool:
    """Whether an instrument of that name has a port, or nobody can tell; asked by a process of its own."""
    look = "import rtmidi; print(rtmidi.MidiOut(rtmidi.API_UNIX_JACK, 'look').get_ports())"
    told = subprocess.run(
        [sys.executable, "-c", look], env=os.environ | surroundings, check=False, capture_output=True, text=True
    )
    return told.returncode != 0 or f"{name}:" in told.stdout


def overruns(surroundings: dict[str, str]) -> int:
    """How often the server itself says that it, or a client, was late: what is in that period is lost."""
    return Path(surroundings[LOG]).read_text(encoding="utf-8", errors="replace").count("XRun")


class Ear:
    """An instrument that listens in a process of its own, so that it does not disturb the player's time."""

    def __init__(self, name: str, surroundings: dict[str, str]) -> None:
        self._name, self._surroundings = name, surroundings
        self._begun_before = 0
        self._process: subprocess.Popen[str]
        self._start([])

    def _start(self, standing: list[list[int]]) -> None:
        self._process = subprocess.Popen(
            [*FIRST, sys.executable, "-m", "tests.midi.live.listening", self._name, json.dumps(standing)],
            cwd=REPOSITORY,
            env=os.environ | self._surroundings,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
        )
        assert self._process.stdout is not None
        assert self._process.stdout.readline() == "ready\n"

    @property
    def standing(self) -> list[list[int]]:
        """What sounds: [channel, key], channels from 0."""
        found: list[list[int]] = self._say("ask")["standing"]
        return found

    @property
    def begun(self) -> int:
        """How many notes ever began."""
        return self._begun_before + int(self._say("ask")["begun"])

    def taken(self) -> list[tuple[float, bytes]]:
        """All that came since the last time, with its second."""
        return [(second, bytes.fromhex(text)) for second, text in self._say("take")]

    @contextmanager
    def away(self) -> Iterator[None]:
        """The cable is pulled, and put back at the end of the block.

        It is out once the server says so: one full of dying clients was seen to list a port until the next came.
        """
        standing, self._begun_before = self.standing, self.begun
        with suppress(ValueError):  # it may crash, as said below; then it has left too
            self._say("leave")
        self.end()
        until = time.monotonic() + FORGOTTEN_WITHIN_S
        while _is_listed(self._name, self._surroundings):
            assert time.monotonic() < until, "the server goes on listing a port that has gone"
        yield
        self._start(standing)

    def end(self) -> None:
        """Killed: RtMidi may crash when it takes a port of JACK down in the middle of a period."""
        self._process.kill()
        self._process.wait()
        for pipe in (self._process.stdin, self._process.stdout):
            if pipe:
                pipe.close()

    def _say(self, word: str) -> Any:
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        print(word, file=self._process.stdin, flush=True)
        return json.loads(self._process.stdout.readline())


@contextmanager
def listeners(number: int, surroundings: dict[str, str]) -> Iterator[list[Ear]]:
    """So many instruments, called ear0:in, ear1:in, ..."""
    ears = [Ear(f"ear{place}", surroundings) for place in range(number)]
    try:
        yield ears
    finally:
        for ear in ears:
            ear.end()
