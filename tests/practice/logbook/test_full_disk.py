"""A disk that fills up while entries are written: what was acknowledged is there, and the file opens.

Referee  the operating system, refusing for real: a small disk in memory, a limit on the length of files; SQLite's own
         limit on pages (`PRAGMA max_page_count`) and its `PRAGMA integrity_check`.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from droner.errors import MachineError
from droner.practice.logbook.store import open_logbook
from tests.parts import need
from tests.practice.logbook.children import SURROUNDINGS, child, command
from tests.practice.logbook.written import entry

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="limits and small disks are of Unix")


@pytest.mark.parametrize("kilobytes", [96, 128, 256, 1024])
def test_a_disk_that_is_really_full(tmp_path: Path, kilobytes: int) -> None:
    steps = f'mount -t tmpfs -o size={kilobytes}k none "{tmp_path}" || exit 77; "$@"'
    through = [need("unshare"), "--mount", "--map-root-user", "sh", "-c", steps, "sh"]
    ran = subprocess.run([*through, "true"], capture_output=True, check=False)
    if ran.returncode in (1, 77):
        pytest.skip("this machine lets nobody mount a small disk")
    told = child("fill", tmp_path / "droner.logbook", through=tuple(through))
    assert told["refusal"] == f"{tmp_path / 'droner.logbook'}: no space left on the disk"
    assert told["faults"] == []
    assert told["acknowledged"] > 0


@pytest.mark.parametrize("bytes_left", [40_000, 200_000])
def test_a_file_that_may_not_grow(tmp_path: Path, bytes_left: int) -> None:
    told = child("fill", tmp_path / "droner.logbook", bytes_left)
    assert told["refusal"].startswith(f"{tmp_path / 'droner.logbook'}: ")
    assert told["faults"] == []
    assert told["acknowledged"] > 0


def test_a_disk_too_small_for_a_logbook_is_told(tmp_path: Path) -> None:
    file = tmp_path / "droner.logbook"
    ran = subprocess.run(command("fill", file, 1000), env=SURROUNDINGS, capture_output=True, text=True, check=False)
    assert ran.stderr.splitlines()[-1].startswith(f"droner.errors.MachineError: {file}: ")
    assert file.read_bytes() == b""
    with open_logbook(file, create=True) as logbook:  # there is room again
        assert logbook.append([entry(1)]) == 1


def test_no_page_left_is_told_and_then_there_is_room_again(tmp_path: Path) -> None:
    file = tmp_path / "droner.logbook"
    with open_logbook(file, create=True) as logbook:
        logbook.append([entry(1)])
        pages = logbook._connection.execute("PRAGMA page_count").fetchone()[0]
        logbook._connection.execute(f"PRAGMA max_page_count = {pages + 1}")
        with pytest.raises(MachineError, match="no space left on the disk"):
            logbook.append(entry(number, note="n" * 1000) for number in range(2, 100))
        assert logbook.entries() == (entry(1),)
        logbook._connection.execute("PRAGMA max_page_count = 100000")
        assert logbook.append([entry(1), entry(2)]) == 1
    with open_logbook(file, create=False) as logbook:
        assert logbook.entries() == (entry(1), entry(2))
