"""A full disk, a forbidden folder, a missing permission, links in a circle, pipes: nothing half-written, nothing left
behind, nothing that waits for ever.

Referee  the operating system, refusing for real.
"""

from __future__ import annotations

import os
import resource
import signal
import subprocess
import time
from pathlib import Path

import pytest

from tests.cli.programs import DRONER, droner_in, files_in, surroundings
from tests.limits import without_roots_rights
from tests.parts import need

DEADLINE_SECONDS = 20
"""What is not done by then hangs."""
SMALL_BYTES = 20_000
"""Less than a second of a WAV file; more than any session file."""


def files_stay_small() -> None:
    resource.setrlimit(resource.RLIMIT_FSIZE, (SMALL_BYTES, SMALL_BYTES))


@pytest.mark.parametrize(
    "arguments",
    [
        ("render", "--as", "wav", "--out", "new/day"),
        ("render", "--as", "mp3"),
        ("drone", "D3", "--out", "d.wav"),
        ("drone", "D3", "--out", "d.flac", "--json"),
        ("click", "4/4", "--out", "c.opus", "--seconds", "600"),
    ],
)
def test_on_a_full_disk_nothing_is_left(room: Path, arguments: tuple[str, ...]) -> None:
    ran = droner_in(room, *arguments, before=files_stay_small)
    assert (ran.code, ran.out) == (3, "")
    assert "file too large" in ran.err.splitlines()[-1]
    assert len(ran.err.splitlines()) == 1
    assert files_in(room) == {"practice.toml"}


def test_on_a_full_disk_the_file_of_yesterday_stays(room: Path) -> None:
    (room / "d.wav").write_bytes(b"yesterday")
    assert droner_in(room, "drone", "D3", "--out", "d.wav", before=files_stay_small).code == 3
    assert (room / "d.wav").read_bytes() == b"yesterday"


def test_what_fits_is_kept_and_what_does_not_is_not(room: Path) -> None:
    ran = droner_in(room, "render", "--as", "mid,wav", "--out", "day", before=files_stay_small)
    assert ran.code == 3
    assert all(name.endswith(".mid") for name in files_in(room / "day")) or not (room / "day").exists()


def test_a_disk_that_is_really_full(room: Path) -> None:
    disk = room / "disk"
    disk.mkdir()
    steps = f'mount -t tmpfs -o size=256k none "{disk}" && cd "{disk}" || exit 77; "$@"; code=$?; ls -A; exit $code'
    ran = subprocess.run(
        [need("unshare"), "--mount", "--map-root-user", "sh", "-c", steps, "sh", *DRONER, "drone", "D3"],
        cwd=room,
        env=surroundings(),
        capture_output=True,
        text=True,
        check=False,
    )
    if ran.returncode in (1, 77):
        pytest.skip("this machine lets nobody mount a small disk")
    assert ran.returncode == 3
    assert ran.stdout == ""
    assert "no space left on device" in ran.stderr


@pytest.mark.parametrize(
    "arguments",
    [("new", "mine.toml"), ("drone", "D3", "--seconds", "1"), ("render", "--as", "mid"), ("click", "4/4")],
)
def test_in_a_folder_that_may_not_be_written(room: Path, arguments: tuple[str, ...]) -> None:
    room.chmod(0o555)
    ran = droner_in(room, *arguments, before=without_roots_rights)
    assert (ran.code, ran.out) == (3, "")
    assert "permission denied" in ran.err
    assert len(ran.err.splitlines()) == 1
    assert files_in(room) == {"practice.toml"}


def test_reading_needs_no_permission_to_write(room: Path) -> None:
    room.chmod(0o555)
    assert droner_in(room, "today", "--json", before=without_roots_rights).data["title"] == "Two thirds"


def test_a_session_that_may_not_be_read(room: Path) -> None:
    (room / "practice.toml").chmod(0o000)
    ran = droner_in(room, "today", before=without_roots_rights)
    assert ran.code == 3
    assert ran.err.casefold() == "practice.toml: permission denied\n"


@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        (("drone", "D3", "--seconds", "1", "--out", "circle.wav"), "circle.wav"),
        (("click", "4/4", "--out", "circle.mid"), "circle.mid"),
        (("new", "circle.toml"), "circle.toml"),
        (("today", "circle.toml"), "circle.toml"),
        (("check", "circle.toml"), "circle.toml"),
        (("check", "practice.toml", "circle.toml"), "circle.toml"),
        (("check", "circle/practice.toml"), "circle/practice.toml"),
        (("today", "circle/practice.toml"), "circle/patterns"),
        (("check", "pieces/patterns/circle.toml"), "pieces/patterns/circle.toml"),
        (("check", "pieces/patterns/mine.toml"), "pieces/patterns/circle.toml"),
        (("today", "pieces/practice.toml"), "pieces/patterns/circle.toml"),
    ],
)
def test_links_in_a_circle(room: Path, arguments: tuple[str, ...], named: str) -> None:
    (room / "pieces" / "patterns").mkdir(parents=True)
    (room / "pieces" / "patterns" / "mine.toml").write_text("[rhythm]\n", encoding="utf-8")
    for link in ("circle", "circle.wav", "circle.mid", "circle.toml", "pieces/patterns/circle.toml"):
        (room / link).symlink_to(Path(link).name)
    before = files_in(room)
    ran = droner_in(room, *arguments)
    assert (ran.code, ran.out) == (3, "")
    assert ran.err.startswith(named)
    assert ran.err.endswith("its links lead round in a circle\n")
    assert len(ran.err.splitlines()) == 1
    assert files_in(room) == before


@pytest.mark.parametrize("arguments", [("today",), ("check",), ("click", "4/4", "--out", "c.mid"), ("patterns",)])
def test_patterns_that_lead_round_in_a_circle(room: Path, arguments: tuple[str, ...]) -> None:
    (room / "patterns").symlink_to("patterns")
    ran = droner_in(room, *arguments)
    assert (ran.code, ran.out, ran.err) == (3, "", "patterns: its links lead round in a circle\n")


@pytest.mark.parametrize("arguments", [("today", "winter.toml"), ("check", "winter.toml")])
def test_a_link_to_no_file_is_not_said_to_be_meant(room: Path, arguments: tuple[str, ...]) -> None:
    (room / "winter.toml").symlink_to("gone.toml")
    ran = droner_in(room, *arguments)
    assert ran.code == 1
    assert ran.err.splitlines()[:2] == [
        "winter.toml: this is a link to a file that is not there",
        "    found:   gone.toml",
    ]
    assert "did you mean" not in ran.err


@pytest.mark.parametrize("pattern", ["", "[rhythm.wrong]\n"])
@pytest.mark.parametrize("arguments", [("today",), ("check",), ("check", "patterns/mine.toml"), ("click", "4/4")])
def test_nobody_waits_for_a_pipe_among_the_patterns(room: Path, arguments: tuple[str, ...], pattern: str) -> None:
    """Nobody will ever write to it. With other mistakes in the folder, its files are looked at once more."""
    (room / "patterns").mkdir()
    (room / "patterns" / "mine.toml").write_text(pattern, encoding="utf-8")
    os.mkfifo(room / "patterns" / "pipe.toml")
    ran = droner_in(room, *arguments)
    assert ran.code == 1
    assert "patterns/pipe.toml: this is a pipe or a device\n" in ran.err


@pytest.mark.parametrize("read", [False, True])
def test_a_pipe_that_is_waited_for_can_be_stopped(room: Path, read: bool) -> None:  # noqa: FBT001 - a case
    """Nobody reads from it; or somebody does, and rests."""
    os.mkfifo(room / "d.wav")
    reading = os.open(room / "d.wav", os.O_RDONLY | os.O_NONBLOCK) if read else None
    with subprocess.Popen(
        [*DRONER, "drone", "D3", "--out", "d.wav"], cwd=room, env=surroundings(), stderr=subprocess.PIPE
    ) as running:
        try:
            time.sleep(3)
            running.send_signal(signal.SIGINT)
            _, err = running.communicate(timeout=DEADLINE_SECONDS)
        finally:
            running.kill()
            if reading is not None:
                os.close(reading)
    assert (running.returncode, err) == (130, b"stopped\n")
