"""A file appears whole or not at all, and the machine's refusals are told in plain words.

Referee  the operating system: devices that are always full or always empty, a limit on the size of files, its longest
         file name, links and folders in the way, a second process, and a real interrupt from outside.
"""

from __future__ import annotations

import os
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
from droner.whole_file import whole_file
from tests.limits import files_no_longer_than
from tests.sound.measure import DRONE_ALONE
from tests.sound.scores import score, tone

ALWAYS_FULL, ALWAYS_EMPTY = Path("/dev/full"), Path("/dev/null")
DEADLINE_SECONDS = 20
"""What is not done by then hangs; everything waited for here takes a second at most."""
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


def passing_files(folder: Path) -> list[Path]:
    return [path for path in folder.iterdir() if path.name.startswith(".") and path.suffix == ".part"]


def program(lines: str, *arguments: str) -> list[str]:
    folders = [path for path in sys.path if path]
    return [sys.executable, "-c", f"import sys; sys.path[:0] = {folders!r}\n{PROGRAM}{lines}", *arguments]


@linux
@pytest.mark.parametrize("name", list(AUDIO_FORMATS))
def test_a_full_disk_is_told_and_nothing_is_left(tmp_path: Path, name: str) -> None:
    with files_no_longer_than(64), pytest.raises(MachineError, match=r"drone cannot be written: file too large"):
        write_audio(tmp_path / "drone", SCORE, DRONE_ALONE, name)
    assert names(tmp_path) == []


@linux
@pytest.mark.parametrize("name", list(AUDIO_FORMATS))
def test_a_full_device_is_told_and_stays(tmp_path: Path, name: str) -> None:
    (tmp_path / "drone").symlink_to(ALWAYS_FULL)
    with pytest.raises(MachineError, match=r"drone cannot be written: no space left on device"):
        write_audio(tmp_path / "drone", SCORE, DRONE_ALONE, name)
    assert names(tmp_path) == ["drone"]
    assert ALWAYS_FULL.is_char_device()


@linux
@pytest.mark.parametrize("name", list(AUDIO_FORMATS))
def test_the_device_that_swallows_everything_takes_every_format(tmp_path: Path, name: str) -> None:
    (tmp_path / "drone").symlink_to(ALWAYS_EMPTY)
    write_audio(tmp_path / "drone", SCORE, DRONE_ALONE, name)
    assert names(tmp_path) == ["drone"]
    assert ALWAYS_EMPTY.is_char_device()


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
            assert passing_files(tmp_path) == list(tmp_path.iterdir())
            assert len(names(tmp_path)) == 1
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        write_audio(tmp_path / "drone", SCORE, DRONE_ALONE, name, progress=interrupt)
    assert names(tmp_path) == []


@linux
@pytest.mark.parametrize("name", ["wav", "mp3"])
def test_a_real_interrupt_from_outside_leaves_nothing(tmp_path: Path, name: str) -> None:
    command = program("write_audio(Path(sys.argv[1]), hours, DRONE_ALONE, sys.argv[2])", str(tmp_path / "hours"), name)
    deadline = time.monotonic() + DEADLINE_SECONDS
    with subprocess.Popen(command, stderr=subprocess.PIPE) as writing:
        try:
            while sum(part.stat().st_size for part in passing_files(tmp_path)) < 100_000:
                assert writing.poll() is None
                assert time.monotonic() < deadline
                time.sleep(0.01)
            writing.send_signal(signal.SIGINT)
            errors = writing.communicate(timeout=DEADLINE_SECONDS)[1]
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


@pytest.mark.parametrize("last", [0, 1])
def test_of_two_writers_in_one_process_the_last_to_finish_has_the_file(tmp_path: Path, last: int) -> None:
    path = tmp_path / "drone.wav"
    writers = [whole_file(path), whole_file(path)]
    files = [writer.__enter__() for writer in writers]
    for block in range(5):
        for number, file in enumerate(files):
            file.write(bytes([number]) * (10_000 + block))
            file.flush()
    for number in (1 - last, last):
        writers[number].__exit__(None, None, None)
        assert set(path.read_bytes()) == {number}
        assert path.stat().st_size == sum(10_000 + block for block in range(5))
    assert names(tmp_path) == ["drone.wav"]


WRITER = """
import sys
sys.path[:0] = sys.argv[3:]
from pathlib import Path
from droner.whole_file import whole_file
print("ready", flush=True)
sys.stdin.readline()
for turn in range(100):
    with whole_file(Path(sys.argv[1])) as file:
        for _ in range(20):
            file.write(sys.argv[2].encode() * 1000)
            file.flush()
"""


def writer(path: Path, letter: str) -> subprocess.Popen[str]:
    """A process that writes a file of one letter again and again, once it is told to begin."""
    command = [sys.executable, "-c", WRITER, str(path), letter, *sys.path]
    return subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)


def test_of_two_processes_the_last_to_finish_has_the_file(tmp_path: Path) -> None:
    """Whoever looks at the file meanwhile sees it whole, too."""
    path = tmp_path / "drone.wav"
    seen: set[bytes] = set()
    with writer(path, "a") as one, writer(path, "b") as other:
        for each in (one, other):
            assert each.stdout is not None
            assert each.stdout.readline() == "ready\n"
        for each in (one, other):
            assert each.stdin is not None
            each.stdin.write("go\n")
            each.stdin.flush()
        deadline = time.monotonic() + DEADLINE_SECONDS
        while one.poll() is None or other.poll() is None:
            assert time.monotonic() < deadline
            if path.exists():
                seen.add(path.read_bytes())
    assert (one.returncode, other.returncode) == (0, 0)
    assert seen | {path.read_bytes()} <= {b"a" * 20_000, b"b" * 20_000}
    assert names(tmp_path) == ["drone.wav"]


@linux
def test_the_longest_name_that_the_disk_takes_can_be_written(tmp_path: Path) -> None:
    longest = os.pathconf(tmp_path, "PC_NAME_MAX")
    path = tmp_path / ("a" * (longest - 4) + ".wav")
    write_audio(path, SCORE, DRONE_ALONE)
    assert path.read_bytes()[:4] == b"RIFF"
    with pytest.raises(MachineError, match=r"aa\.wav cannot be written: file name too long"):
        write_audio(path.with_name("a" + path.name), SCORE, DRONE_ALONE)
    assert names(tmp_path) == [path.name]


def test_links_and_folders_that_others_planted_do_no_harm(tmp_path: Path) -> None:
    (tmp_path / "precious").write_text("kept")
    (tmp_path / ".drone.part").symlink_to(tmp_path / "precious")
    (tmp_path / ".click.part").mkdir()
    for name in ("drone", "click"):
        write_audio(tmp_path / name, SCORE, DRONE_ALONE)
    assert (tmp_path / "precious").read_text() == "kept"
    assert names(tmp_path) == [".click.part", ".drone.part", "click", "drone", "precious"]


def test_a_link_is_followed_also_to_a_file_that_is_not_there_yet(tmp_path: Path) -> None:
    (tmp_path / "music").mkdir()
    (tmp_path / "link").symlink_to(Path("music", "drone.wav"))
    for text in (b"new", b"newer"):
        with whole_file(tmp_path / "link") as file:
            file.write(text)
        assert (tmp_path / "link").is_symlink()
        assert (tmp_path / "music" / "drone.wav").read_bytes() == text
    assert names(tmp_path / "music") == ["drone.wav"]


@pytest.mark.parametrize("name", ["circle", "circle/drone.wav", "there"])
def test_links_in_a_circle_are_told_and_stay(tmp_path: Path, name: str) -> None:
    for link, goal in (("circle", "circle"), ("there", "back"), ("back", "there")):
        (tmp_path / link).symlink_to(goal)
    with pytest.raises(MachineError, match=rf"{name} cannot be written: its links lead round in a circle"):
        write_audio(tmp_path / name, SCORE, DRONE_ALONE)
    assert names(tmp_path) == ["back", "circle", "there"]
    assert all(path.is_symlink() for path in tmp_path.iterdir())
