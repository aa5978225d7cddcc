"""Through PortAudio and JACK, to the last sample. Referees: a JACK client that shares no code with PortAudio; POSIX."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import numpy as np
import pytest

from droner.sound.render import render_blocks
from tests.midi.live.jack import REPOSITORY, jack_server, overruns
from tests.sound.live.listening import PERIOD_FRAMES, Listener, listener, slips
from tests.sound.live.sounding import EVERY_PART, day

SAME = 1e-7
"""Half the last bit of a float32 near full scale."""
TAKES = 3
STEADY_S = 0.6
SILENT_WITHIN_S = 0.25
"""Of a signal: 5 ms to notice it, 30 ms of fade, a period, and what a busy machine takes to wake a process."""
NOTICED_WITHIN_S = 10
RATE_HZ = 48_000


@pytest.fixture(scope="module")
def jack(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, str]]:
    with jack_server(tmp_path_factory.mktemp("jack"), PERIOD_FRAMES) as surroundings:
        yield surroundings


@contextmanager
def sounding(what: str, surroundings: dict[str, str], device: str = "ear") -> Iterator[subprocess.Popen[str]]:
    with subprocess.Popen(
        [sys.executable, "-m", "tests.sound.live.sounding", device, what],
        cwd=REPOSITORY,
        env=os.environ | surroundings,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as process:
        try:
            yield process
        finally:
            process.kill()


def playing(process: subprocess.Popen[str], ear: Listener) -> None:
    """Wait until it is heard, and a little longer."""
    assert process.stdout is not None
    assert process.stdout.readline() == "playing\n"
    until = time.monotonic() + NOTICED_WITHIN_S
    while ear.ask("first") is None:
        assert time.monotonic() < until
        time.sleep(0.01)
    time.sleep(STEADY_S)


def test_what_arrives_is_what_the_file_would_hold(jack: dict[str, str], tmp_path: Path) -> None:
    """In a take in which the server was in time; else no more places broken than it names clients that were late."""
    made = np.concatenate(list(render_blocks(day(), EVERY_PART, RATE_HZ)))
    first = int(np.flatnonzero(made.any(axis=1))[0])
    for _ in range(TAKES):
        before = overruns(jack)
        with listener("ear", jack) as ear:
            with sounding("day", jack) as process:
                said, noise = process.communicate(timeout=60)
            assert process.returncode == 0, noise
            heard, lost = ear.heard(tmp_path), ear.ask("lost")
        broken, late = slips(heard, made[first:], SAME), overruns(jack) - before
        print(f"the server lost {lost} periods, {late} clients were late, {broken} places are broken; {said}")
        assert "late=0" in said
        if not lost and not late:
            break
    assert broken <= late


def test_nothing_of_the_sound_systems_comes_to_the_terminal(jack: dict[str, str]) -> None:
    with listener("ear", jack), sounding("day", jack) as process:
        _, noise = process.communicate(timeout=60)
    assert noise == ""


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP])
def test_a_signal_fades_and_then_has_its_usual_effect(
    jack: dict[str, str], tmp_path: Path, number: signal.Signals
) -> None:
    with listener("ear", jack) as ear, sounding("drone", jack) as process:
        playing(process, ear)
        sent = time.monotonic()
        process.send_signal(number)
        process.wait(NOTICED_WITHIN_S)
        assert process.returncode == -number, "as a process that never noted it"
        heard, first, lost = ear.heard(tmp_path)[:, 0], ear.ask("first"), ear.ask("lost")
    last = int(np.flatnonzero(heard)[-1])
    assert first + last / RATE_HZ - sent < SILENT_WITHIN_S
    steps = np.abs(np.diff(heard, append=0.0))
    steady = steps[RATE_HZ // 10 : RATE_HZ // 2].max()
    # what the waves themselves move from one sample to the next, and the steepest part of the fade (pi / 2 over 30 ms)
    fade = np.abs(heard).max() * np.pi / 2 / (0.03 * RATE_HZ)
    # a chord's steepest moment need not lie in the 0.4 s looked at; a cut would be as high as the wave, ten times that
    assert lost or steps[RATE_HZ // 2 :].max() < 1.5 * steady + fade


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGSTOP])
def test_a_server_that_ends_or_hangs_is_told_and_holds_nobody_up(tmp_path: Path, number: signal.Signals) -> None:
    """SIGKILL would leave the server's name in JACK's register."""
    with jack_server(tmp_path, PERIOD_FRAMES) as surroundings, listener("ear", surroundings) as ear:
        [server] = servers(surroundings)
        try:
            with sounding("drone", surroundings) as process:
                playing(process, ear)
                os.kill(server, number)
                said, _ = process.communicate(timeout=NOTICED_WITHIN_S)
        finally:
            if number == signal.SIGSTOP:
                os.kill(server, signal.SIGCONT)
    assert process.returncode == 3
    assert "has gone away" in said


def servers(surroundings: dict[str, str]) -> list[int]:
    """Our own server alone, by its name in its command line (Linux, proc(5))."""
    asked = f"jackd\0-n\0{surroundings['JACK_DEFAULT_SERVER']}\0".encode()
    return [
        int(folder.name)
        for folder in Path("/proc").glob("[0-9]*")
        if asked in (folder / "cmdline").read_bytes() and not (folder / "cmdline").read_bytes().startswith(b"nice")
    ]


ASKED = """
from droner.errors import MachineError
from droner.sound.live.device import Speaker
for wanted in ("EAR", "phone", "ea", "tuba"):
    try:
        print(Speaker.called(wanted).device.name)
    except MachineError as told:
        print(told)
"""


def test_an_output_is_found_by_a_part_of_its_name(jack: dict[str, str]) -> None:
    with listener("ear", jack), listener("earphone", jack):
        told = subprocess.run(
            [sys.executable, "-c", ASKED],
            env=os.environ | jack,
            cwd=REPOSITORY,
            capture_output=True,
            check=True,
            text=True,
        )
    exact, part, *others = told.stdout.splitlines()
    assert (exact, part) == ("ear", "earphone")
    assert others[0] == "'ea' fits 2 audio outputs; say more of the name:"
    assert "no audio output is called 'tuba'; there are:" in others
    assert told.stderr == ""
