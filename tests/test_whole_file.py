"""A file appears whole or not at all, and the machine's refusals are told in plain words.

Referee  the operating system: a device that is always full, a limit on the size of files, folders in the way,
         and a real interrupt from outside.
"""

from __future__ import annotations

import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from droner.errors import MachineError
from droner.sound.audio_file import write_audio
from droner.sound.formats_table import AUDIO_FORMATS
from droner.units import Beats
from tests.sound.measure import DRONE_ALONE
from tests.sound.scores import score, tone

ALWAYS_FULL = Path("/dev/full")
linux = pytest.mark.skipif(sys.platform != "linux", reason="Linux has the devices and limits this needs")

SCORE = score(Beats(4), drone=[tone(0, 4, "D3")])
PROGRAM = """
import sys
from pathlib import Path
from tests.sound.measure import DRONE_ALONE
from tests.sound.scores import score, tone
from droner.errors import MachineError
from droner.sound.audio_file import write_audio
from droner.units import Beats
hours = score(Beats(36_000), drone=[tone(0, 36_000, "D3")])
"""


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def program(lines: str, *arguments: str) -> list[str]:
    folders = [path for path in sys.path if path]
    return [sys.executable, "-c", f"import sys; sys.path[:0] = {folders!r}\n{PROGRAM}{lines}", *arguments]


@linux
@pytest.mark.parametrize("name", list(AUDIO_FORMATS))
def test_a_full_disk_is_told_and_nothing_is_left(tmp_path: Path, name: str) -> None:
    """The passing file is led to the device on which every write fails with "no space left"."""
    (tmp_path / ".drone.part").symlink_to(ALWAYS_FULL)
    with pytest.raises(MachineError, match=r"drone cannot be written: no space left on device"):
        write_audio(tmp_path / "drone", SCORE, DRONE_ALONE, name)
    assert names(tmp_path) == []
    assert ALWAYS_FULL.is_char_device()


@linux
@pytest.mark.parametrize("name", list(AUDIO_FORMATS))
def test_a_disk_that_fills_up_half_way_is_told_and_nothing_is_left(tmp_path: Path, name: str) -> None:
    """The system refuses files above 200,000 bytes; ten hours of drone are more in every format."""
    lines = """
import resource
resource.setrlimit(resource.RLIMIT_FSIZE, (200_000, 200_000))
try:
    write_audio(Path(sys.argv[1]), hours, DRONE_ALONE, sys.argv[2])
except MachineError as why:
    print(why)
"""
    command = program(lines, str(tmp_path / "hours"), name)
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=True)
    assert done.stdout == f"{tmp_path / 'hours'} cannot be written: file too large\n"
    assert done.stderr == ""
    assert names(tmp_path) == []


@pytest.mark.parametrize("name", list(AUDIO_FORMATS))
def test_an_interrupt_leaves_nothing(tmp_path: Path, name: str) -> None:
    def interrupt(frames: int) -> None:
        if frames > 60_000:
            assert names(tmp_path) == [".drone.part"]
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        write_audio(tmp_path / "drone", SCORE, DRONE_ALONE, name, progress=interrupt)
    assert names(tmp_path) == []


@linux
@pytest.mark.parametrize("name", ["wav", "mp3"])
def test_a_real_interrupt_from_outside_leaves_nothing(tmp_path: Path, name: str) -> None:
    command = program("write_audio(Path(sys.argv[1]), hours, DRONE_ALONE, sys.argv[2])", str(tmp_path / "hours"), name)
    part = tmp_path / ".hours.part"
    with subprocess.Popen(command, stderr=subprocess.PIPE) as writing:
        try:
            while not part.exists() or part.stat().st_size < 100_000:
                assert writing.poll() is None
                time.sleep(0.01)
            writing.send_signal(signal.SIGINT)
            errors = writing.communicate(timeout=20)[1]
        finally:
            writing.kill()
    assert b"KeyboardInterrupt" in errors
    assert names(tmp_path) == []


def test_what_stood_there_stays_when_writing_fails(tmp_path: Path) -> None:
    path = tmp_path / "drone.wav"
    path.write_text("yesterday")

    def give_up(_: int) -> None:
        raise RuntimeError

    with pytest.raises(RuntimeError):
        write_audio(path, SCORE, DRONE_ALONE, progress=give_up)
    assert path.read_text() == "yesterday"
    assert names(tmp_path) == ["drone.wav"]


def test_a_new_file_takes_the_place_of_the_old(tmp_path: Path) -> None:
    path = tmp_path / "drone.wav"
    path.write_text("yesterday")
    write_audio(path, SCORE, DRONE_ALONE)
    assert path.read_bytes()[:4] == b"RIFF"
    assert names(tmp_path) == ["drone.wav"]


def test_a_folder_in_the_way_is_told_before_any_work(tmp_path: Path) -> None:
    (tmp_path / "drone.wav").mkdir()
    told: list[int] = []
    with pytest.raises(MachineError, match="there is a folder of that name"):
        write_audio(tmp_path / "drone.wav", SCORE, DRONE_ALONE, progress=told.append)
    assert told == []
    assert names(tmp_path) == ["drone.wav"]


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(MachineError, match=r"drone\.wav cannot be written: no such file or directory"):
        write_audio(tmp_path / "nowhere" / "drone.wav", SCORE, DRONE_ALONE)


def test_a_file_in_place_of_the_folder_is_told(tmp_path: Path) -> None:
    (tmp_path / "notes").write_text("")
    with pytest.raises(MachineError, match="not a directory"):
        write_audio(tmp_path / "notes" / "drone.wav", SCORE, DRONE_ALONE)


@linux
def test_a_folder_that_may_not_be_written_is_told() -> None:
    """Not even the system's owner can make a file among the facts about processes."""
    with pytest.raises(MachineError, match=r"/proc/drone\.wav cannot be written: "):
        write_audio(Path("/proc/drone.wav"), SCORE, DRONE_ALONE)
    assert not Path("/proc/drone.wav").exists()
