"""Kill a logging program at any moment: nothing acknowledged is lost, nothing is torn, and the file opens.

Referee  SQLite's own `PRAGMA integrity_check`, by a connection that is not ours; entries that are known whole from
         their names; the order of the program's calls, as strace sees it (SQLite documentation, "Write-Ahead Logging":
         with FULL the journal is made durable before a transaction ends).
Limits   a kill shows that nothing acknowledged was only in the program's own memory. It says nothing of a power cut:
         the system lives on and keeps what it was given. The last test sees that the disk is waited for before an entry
         is acknowledged; whether the disk then keeps what it promised, no test here can know.
"""

from __future__ import annotations

import shutil
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from droner.practice.logbook.store import open_logbook
from tests.practice.logbook.children import SURROUNDINGS, child, command
from tests.practice.logbook.written import named

TRIES_EACH = 130
TWO_WRITERS_ENTRIES = 1000

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="kill -9 and fork are of Unix")


@pytest.mark.parametrize("seed", [1, 2, 3, 4])
def test_killed_at_random_moments(tmp_path: Path, seed: int) -> None:
    told = child("kill", tmp_path, TRIES_EACH, seed)
    assert told["faults"] == []
    assert told["acknowledged"] > TRIES_EACH


def test_two_writers_at_once_lose_nothing(tmp_path: Path) -> None:
    file = tmp_path / "droner.logbook"
    writers = [
        subprocess.Popen(
            command("write", file, TWO_WRITERS_ENTRIES), env=SURROUNDINGS, stdout=subprocess.PIPE, text=True
        )
        for _ in range(2)
    ]
    acknowledged = [writer.communicate()[0].split() for writer in writers]
    assert [writer.returncode for writer in writers] == [0, 0]
    names = [name for each in acknowledged for name in each]
    assert len(names) == len(set(names)) == 2 * TWO_WRITERS_ENTRIES
    with open_logbook(file, create=False) as logbook:
        assert set(logbook.entries()) == set(map(named, names))


def test_a_file_beside_that_a_kill_left_is_taken_in(tmp_path: Path) -> None:
    file = tmp_path / "droner.logbook"
    with subprocess.Popen(command("write", file, 10**6), env=SURROUNDINGS, stdout=subprocess.PIPE, text=True) as writer:
        assert writer.stdout
        names = [writer.stdout.readline().strip() for _ in range(5)]
        writer.send_signal(signal.SIGKILL)
    assert (tmp_path / "droner.logbook-wal").stat().st_size > 0
    with open_logbook(file, create=False) as logbook:
        assert set(map(named, names)) <= set(logbook.entries())
    assert [path.name for path in tmp_path.iterdir()] == ["droner.logbook"]  # whole and alone: to be copied


def test_the_disk_is_waited_for_before_an_entry_is_acknowledged(tmp_path: Path) -> None:
    strace, file, trace = shutil.which("strace"), tmp_path / "droner.logbook", tmp_path / "trace"
    if not strace:
        pytest.skip("strace is not on this machine")
    calls = "trace=write,pwrite64,fsync,fdatasync,unlink"
    watched = [strace, "-y", "-o", str(trace), "-e", calls, *command("one", file)]
    ran = subprocess.run(watched, env=SURROUNDINGS, capture_output=True, text=True, check=False)
    if ran.returncode:
        pytest.skip(f"this machine lets nobody watch a program: {ran.stderr.splitlines()[-1:]}")
    lines = trace.read_text().splitlines()
    acknowledged = [at for at, call in enumerate(lines) if call.startswith("write(1<") and call.endswith("= 33")]
    before = lines[: acknowledged[0]]
    journal = [call for call in before if "droner.logbook-wal>" in call]
    assert journal[0].startswith("pwrite64")
    assert journal[-1].startswith(("fdatasync", "fsync"))
    made = max(at for at, call in enumerate(before) if call.startswith("unlink") and "-journal" in call)
    folder = [
        at for at, call in enumerate(before) if call.startswith(("fdatasync", "fsync")) and f"{tmp_path}>" in call
    ]
    assert max(folder) > made  # the name of the new file too
