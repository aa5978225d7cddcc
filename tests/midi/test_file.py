"""Referee: the operating system, refusing for real: a folder in the way, a missing folder, a full device."""

from __future__ import annotations

import os
import stat
import sys
from pathlib import Path

import pytest

from droner.errors import MachineError
from droner.midi.smf_file import smf_bytes, write_smf
from tests.limits import files_no_longer_than
from tests.midi.scores import click, score, tone

FULL_DEVICE = Path("/dev/full")
"""Linux: every write to it finds no space left."""
TUNE = score(4, drone=[tone(0, 4, "D3")], clicks=[click(beat) for beat in range(4)])


def test_the_file_holds_the_bytes_and_nothing_lies_beside_it(tmp_path: Path) -> None:
    path = tmp_path / "day.mid"
    write_smf(path, TUNE)
    assert path.read_bytes() == smf_bytes(TUNE)
    assert list(tmp_path.iterdir()) == [path]


def test_an_older_file_is_replaced_and_its_link_stays(tmp_path: Path) -> None:
    real, link = tmp_path / "real.mid", tmp_path / "link.mid"
    real.write_bytes(b"old")
    link.symlink_to(real)
    write_smf(link, TUNE)
    assert link.is_symlink()
    assert real.read_bytes() == smf_bytes(TUNE)


def test_the_file_can_be_read_by_whom_the_user_allows(tmp_path: Path) -> None:
    plain, path = tmp_path / "plain", tmp_path / "day.mid"
    plain.touch()
    write_smf(path, TUNE)
    assert stat.S_IMODE(path.stat().st_mode) == stat.S_IMODE(plain.stat().st_mode)


def test_a_folder_in_the_way_is_the_machine_refusing(tmp_path: Path) -> None:
    path = tmp_path / "day.mid"
    path.mkdir()
    with pytest.raises(MachineError, match=r"day\.mid"):
        write_smf(path, TUNE)
    assert list(tmp_path.iterdir()) == [path]
    assert list(path.iterdir()) == []


def test_a_missing_folder_is_the_machine_refusing(tmp_path: Path) -> None:
    with pytest.raises(MachineError, match=r"nowhere/day\.mid"):
        write_smf(tmp_path / "nowhere" / "day.mid", TUNE)
    assert list(tmp_path.iterdir()) == []


def test_a_file_used_as_a_folder_is_the_machine_refusing(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"kept")
    with pytest.raises(MachineError, match=r"file/day\.mid"):
        write_smf(tmp_path / "file" / "day.mid", TUNE)
    assert (tmp_path / "file").read_bytes() == b"kept"


@pytest.mark.skipif(not FULL_DEVICE.is_char_device(), reason="this machine has no /dev/full")
def test_a_full_device_is_the_machine_refusing_and_stays_a_device() -> None:
    with pytest.raises(MachineError, match="/dev/full"):
        write_smf(FULL_DEVICE, TUNE)
    assert FULL_DEVICE.is_char_device()


@pytest.mark.skipif(sys.platform == "win32", reason="Windows sets no limit to the length of files")
def test_a_disk_that_fills_leaves_the_old_file_and_nothing_beside(tmp_path: Path) -> None:
    path = tmp_path / "day.mid"
    path.write_bytes(b"old")
    with files_no_longer_than(64), pytest.raises(MachineError, match=r"day\.mid"):
        write_smf(path, TUNE)
    assert path.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no named pipes in folders")
def test_a_pipe_takes_the_bytes(tmp_path: Path) -> None:
    path = tmp_path / "pipe"
    os.mkfifo(path)
    reading = os.open(path, os.O_RDONLY | os.O_NONBLOCK)
    try:
        write_smf(path, TUNE)
        assert os.read(reading, 1 << 16) == smf_bytes(TUNE)
    finally:
        os.close(reading)


class GivenUpError(Exception):
    """Raised by a player who has waited long enough."""


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no named pipes in folders")
def test_a_pipe_that_nobody_reads_can_be_given_up(tmp_path: Path) -> None:
    def give_up() -> None:
        raise GivenUpError

    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(GivenUpError):
        write_smf(tmp_path / "pipe", TUNE, still_wanted=give_up)
