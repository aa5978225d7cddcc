"""A full disk, a forbidden folder, a missing permission: nothing half-written, nothing left behind.

Referee  the operating system, refusing for real.
"""

from __future__ import annotations

import ctypes
import os
import resource
import subprocess
from pathlib import Path

import pytest

from tests.cli.programs import DRONER, droner_in, files_in, surroundings
from tests.parts import need

PR_CAPBSET_DROP, CAP_DAC_OVERRIDE, CAP_DAC_READ_SEARCH = 24, 1, 2
"""prctl(2), capabilities(7): a right dropped so is gone once the program starts."""
SMALL_BYTES = 20_000
"""Less than a second of a WAV file; more than any session file."""


def files_stay_small() -> None:
    resource.setrlimit(resource.RLIMIT_FSIZE, (SMALL_BYTES, SMALL_BYTES))


def without_roots_rights() -> None:
    """Root may write everywhere: give that right up. Any other user has no such right."""
    if os.getuid() == 0:
        for right in (CAP_DAC_OVERRIDE, CAP_DAC_READ_SEARCH):
            ctypes.CDLL(None).prctl(PR_CAPBSET_DROP, right, 0, 0, 0)


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
