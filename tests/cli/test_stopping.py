"""Stopped at any moment, droner leaves whole files or none, says one word, and ends with the shell's code.

Referees  the operating system's signals; libsndfile and mido reading what is left; an undisturbed run, byte by byte.
          128 + the number of the signal: POSIX shells' exit code of a program ended by a signal (POSIX.1, 2.8.2 says
          more than 128; the sum is every shell's habit).
"""

from __future__ import annotations

import random
import signal
import subprocess
import sys
import time
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory

import mido
import pytest
import soundfile

from droner.cli.cores import FORKED_ON
from tests.cli.programs import LONGEST_RUN_SECONDS, SHORT_SESSION, surroundings

READY = "ready\n"
STARTER = f"from droner.cli.main import main; print({READY.strip()!r}, flush=True); main()"
"""The program, telling when its own first line runs: what comes before is Python's, and not ours to stop."""
WORK = ("render", "--as", "wav,mid,ogg", "--date", "2026-11-25", "--out", "day")
SESSION = SHORT_SESSION.replace("keys_per_day = 2", "keys_per_day = 4")
TRIES = 20
HIDDEN = "."


@dataclass(frozen=True, slots=True)
class Stopped:
    """A run that a signal fell into, or that was quicker."""

    code: int
    err: str
    files: dict[str, bytes]
    folder: bool


def run(after_seconds: float | None, number: signal.Signals = signal.SIGINT) -> Stopped:
    """Start the work, send the signal so long after its first line, and look at what is there."""
    with TemporaryDirectory() as made:
        room = Path(made)
        (room / "practice.toml").write_text(SESSION, encoding="utf-8")
        with subprocess.Popen(
            [sys.executable, "-c", STARTER, *WORK],
            cwd=room,
            env=surroundings(),
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        ) as running:
            assert running.stdout is not None
            assert running.stdout.readline() == READY
            if after_seconds is not None:
                time.sleep(after_seconds)
                running.send_signal(number)
            _, err = running.communicate(timeout=LONGEST_RUN_SECONDS)
        day = room / "day"
        files = {path.name: path.read_bytes() for path in day.iterdir()} if day.exists() else {}
        return Stopped(running.returncode, err, files, day.exists())


@lru_cache(maxsize=1)
def undisturbed() -> tuple[Stopped, float]:
    """A run that nobody stops, and how long it takes."""
    began = time.monotonic()
    return run(None), time.monotonic() - began


def moments(seed: int, tries: int = TRIES) -> list[float]:
    """Moments spread at random over the length of a run: one in each of so many equal parts."""
    draw = random.Random(seed)
    return [(part + draw.random()) / tries for part in range(tries)]


def assert_whole(stopped: Stopped) -> None:
    """Every file with a name of its own is the one that an undisturbed run makes."""
    whole, _ = undisturbed()
    for name, data in stopped.files.items():
        assert name.startswith(HIDDEN) or data == whole.files[name]


def test_an_undisturbed_run_makes_files_that_others_can_read(tmp_path: Path) -> None:
    whole, _ = undisturbed()
    assert (whole.code, len(whole.files)) == (0, 12)
    for name, data in whole.files.items():
        (tmp_path / name).write_bytes(data)
        if name.endswith(".mid"):
            assert mido.MidiFile(tmp_path / name).length > 1
        else:
            sound, rate_hz = soundfile.read(tmp_path / name)
            assert len(sound) > rate_hz


@pytest.mark.parametrize("share", moments(seed=1))
def test_ctrl_c_at_any_moment(share: float) -> None:
    stopped = run(share * undisturbed()[1])
    assert stopped.code in (130, 0, -signal.SIGINT)  # -2 at the very end, when nothing is left to tidy: 130 in a shell
    assert "Traceback" not in stopped.err
    assert not [name for name in stopped.files if name.startswith(HIDDEN)]
    assert stopped.folder == bool(stopped.files)
    assert_whole(stopped)
    if stopped.code == 130:
        assert stopped.err.splitlines()[-1] == "stopped"


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
@pytest.mark.parametrize("share", moments(seed=2, tries=6))
def test_ended_by_another_program_at_any_moment(share: float, number: signal.Signals) -> None:
    stopped = run(share * undisturbed()[1], number)
    assert stopped.code in (
        128 + number,
        0,
        -number,
    )  # - before the work begins, and after it: the shell says 128 + too
    assert "Traceback" not in stopped.err
    assert not [name for name in stopped.files if name.startswith(HIDDEN)]
    assert stopped.folder == bool(stopped.files)
    assert_whole(stopped)


@pytest.mark.parametrize("share", moments(seed=3, tries=5))
def test_killed_at_any_moment_leaves_no_false_file(share: float) -> None:
    stopped = run(share * undisturbed()[1], signal.SIGKILL)
    assert stopped.code in (-signal.SIGKILL, 0)
    assert_whole(stopped)


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_a_single_file_is_stopped_as_well(tmp_path: Path, number: signal.Signals) -> None:
    with subprocess.Popen(
        [sys.executable, "-m", "droner", "drone", "D3", "--seconds", "7200", "--out", "d.flac"],
        cwd=tmp_path,
        env=surroundings(),
        stderr=subprocess.PIPE,
        text=True,
    ) as running:
        while not list(tmp_path.iterdir()):
            time.sleep(0.01)
        running.send_signal(number)
        _, err = running.communicate(timeout=LONGEST_RUN_SECONDS)
    assert (running.returncode, err) == (128 + number, "stopped\n")
    assert list(tmp_path.iterdir()) == []


FORKING = """
import os, signal
from droner.cli.workers import write_in_processes

class Job:
    def write(self, told):
        told(0)

def interrupt():
    os.kill(os.getpid(), signal.SIGINT)
    sum(range(100))

os.register_at_fork(before=interrupt)
try:
    write_in_processes([Job()], 2, lambda place, done: None, lambda place: None)
except KeyboardInterrupt:
    print("obeyed")
"""


@pytest.mark.skipif(sys.platform not in FORKED_ON, reason="processes are not forked here")
def test_ctrl_c_while_a_process_is_made_is_not_lost() -> None:
    """What is raised in the callbacks of a fork Python only prints (its manual, `os.register_at_fork`)."""
    done = subprocess.run(
        [sys.executable, "-c", FORKING], env=surroundings(), capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, "obeyed\n", "")
