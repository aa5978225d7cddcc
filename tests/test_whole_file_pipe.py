"""A pipe is sent a file once it is whole, and one that lets us wait can be given up.

Referee  the operating system's pipes, with `cat` at their other end.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from droner.errors import MachineError
from droner.sound.audio_file import write_audio
from droner.sound.formats_table import AUDIO_FORMATS
from droner.units import Beats
from droner.whole_file import whole_file
from tests.limits import files_no_longer_than
from tests.sound.measure import DRONE_ALONE
from tests.sound.scores import score, tone

DEADLINE_SECONDS = 20
"""What is not done by then hangs; everything waited for here takes a second at most."""
MORE_THAN_A_PIPE_HOLDS = bytes(1_000_000)
"""Linux: 65,536 bytes (pipe(7)); other systems hold less."""
SCORE = score(Beats(4), drone=[tone(0, 4, "D3")])

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="Windows has no named pipes in folders")


class GivenUpError(Exception):
    """Raised by a player who has waited long enough."""


def given_up_after(times: int) -> Callable[[], None]:
    left = list(range(times))

    def still_wanted() -> None:
        if not left:
            raise GivenUpError
        left.pop()

    return still_wanted


@contextmanager
def pipe_read_by_cat(folder: Path) -> Iterator[tuple[Path, Callable[[], bytes]]]:
    """A pipe, and what gives all that came through it once its writer has closed it."""
    path, copy = folder / "pipe", folder / "copy"
    os.mkfifo(path)
    with copy.open("wb") as opened, subprocess.Popen(["cat", str(path)], stdout=opened) as cat:

        def came() -> bytes:
            cat.wait(timeout=DEADLINE_SECONDS)
            return copy.read_bytes()

        try:
            yield path, came
        finally:
            cat.kill()


@pytest.mark.parametrize("name", list(AUDIO_FORMATS))
def test_a_pipe_gets_the_bytes_of_the_file(tmp_path: Path, name: str) -> None:
    deadline = time.monotonic() + DEADLINE_SECONDS
    told: list[int] = []

    def progress(frames: int) -> None:
        assert time.monotonic() < deadline
        told.append(frames)

    write_audio(tmp_path / "drone", SCORE, DRONE_ALONE, name)
    with pipe_read_by_cat(tmp_path) as (pipe, came):
        write_audio(pipe, SCORE, DRONE_ALONE, name, progress=progress)
        assert came() == (tmp_path / "drone").read_bytes()
    assert told == sorted(told)


@pytest.mark.parametrize("failure", [RuntimeError, KeyboardInterrupt])
@pytest.mark.parametrize("name", ["wav", "mp3"])
def test_a_pipe_gets_nothing_of_a_file_that_fails(tmp_path: Path, name: str, failure: type[BaseException]) -> None:
    def fail(frames: int) -> None:
        if frames > 60_000:
            raise failure

    with pipe_read_by_cat(tmp_path) as (pipe, came):
        with pytest.raises(failure):
            write_audio(pipe, SCORE, DRONE_ALONE, name, progress=fail)
        assert came() == b""


def test_a_pipe_gets_nothing_when_the_disk_is_full(tmp_path: Path) -> None:
    with pipe_read_by_cat(tmp_path) as (pipe, came):
        with files_no_longer_than(20_000), pytest.raises(MachineError, match="pipe cannot be written: file too large"):
            write_audio(pipe, SCORE, DRONE_ALONE)
        assert came() == b""


def test_a_pipe_without_a_reader_can_be_given_up(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(GivenUpError), whole_file(tmp_path / "pipe", given_up_after(3)):
        pytest.fail("nobody reads, and yet there was something to write to")


def test_a_pipe_waits_for_its_reader(tmp_path: Path) -> None:
    pipe, reading = tmp_path / "pipe", list[int]()
    os.mkfifo(pipe)

    def come_late() -> None:
        if not reading:
            reading.append(os.open(pipe, os.O_RDONLY | os.O_NONBLOCK))

    with whole_file(pipe, come_late) as file:
        file.write(b"drone")
    assert os.read(reading[0], 100) == b"drone"
    os.close(reading[0])


def test_a_pipe_whose_reader_rests_can_be_given_up(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    reading = os.open(tmp_path / "pipe", os.O_RDONLY | os.O_NONBLOCK)
    try:
        with pytest.raises(GivenUpError), whole_file(tmp_path / "pipe", given_up_after(3)) as file:
            file.write(MORE_THAN_A_PIPE_HOLDS)
    finally:
        os.close(reading)


def test_a_reader_that_goes_is_told(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    reading = os.open(tmp_path / "pipe", os.O_RDONLY | os.O_NONBLOCK)
    writing = whole_file(tmp_path / "pipe")
    writing.__enter__().write(b"drone")
    os.close(reading)
    with pytest.raises(MachineError, match="pipe cannot be written: broken pipe"):
        writing.__exit__(None, None, None)
