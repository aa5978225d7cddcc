"""Reading the logbook needs the right to read it and no other; what lacks a right is told in plain words.

Referee  the operating system, refusing an ordinary user for real.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from droner.practice.logbook.rows import FIELDS
from tests.limits import without_roots_rights
from tests.practice.logbook.children import SURROUNDINGS, left_by_a_kill

READS = """
import json, sys
from pathlib import Path
from droner.errors import MachineError, MistakesFound
from droner.practice.logbook.store import open_logbook
from tests.practice.logbook.written import entry
read = written = 0
try:
    with open_logbook(Path(sys.argv[1]), create=sys.argv[2:] == ["create"]) as logbook:
        read = len(logbook.entries())
        written = logbook.append([entry(100)])
except (MachineError, MistakesFound) as why:
    print(json.dumps([read, written, type(why).__name__, str(why)]))
else:
    print(json.dumps([read, written, "", ""]))
"""

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="rights of Unix")


def used(file: Path, *create: str) -> tuple[int, int, str, str]:
    """How many entries an ordinary user reads, and then writes; what is told, and of which kind."""
    ran = subprocess.run(
        [sys.executable, "-c", READS, file, *create],
        env=SURROUNDINGS, capture_output=True, text=True, check=False, preexec_fn=without_roots_rights,
    )  # fmt: skip
    assert ran.returncode == 0, ran.stderr
    read, written, kind, told = json.loads(ran.stdout)
    return read, written, kind, told


@pytest.mark.parametrize(("file_mode", "folder_mode"), [(0o600, 0o500), (0o400, 0o700), (0o400, 0o500)])
def test_reading_needs_no_right_to_write(three_entries: Path, file_mode: int, folder_mode: int) -> None:
    before = three_entries.read_bytes()
    three_entries.chmod(file_mode)
    three_entries.parent.chmod(folder_mode)
    read, written, kind, told = used(three_entries)
    assert (read, written, kind) == (3, 0, "MachineError")
    assert told == f"{three_entries}: it can be read, but permission or room to write it is missing"
    assert three_entries.read_bytes() == before


def test_what_a_kill_left_beside_the_file_is_read_or_told_but_never_forgotten(three_entries: Path) -> None:
    others = f"SELECT replace(name, '0000', '1111'), {', '.join(FIELDS[1:])} FROM entry"  # noqa: S608 - our own names
    left_by_a_kill(three_entries, f"INSERT INTO entry ({', '.join(FIELDS)}) {others}")
    three_entries.parent.chmod(0o500)
    assert used(three_entries)[0] == 6
    three_entries.parent.chmod(0o700)
    (three_entries.parent / "droner.logbook-shm").unlink()
    three_entries.parent.chmod(0o500)
    read, _, kind, told = used(three_entries)
    assert (read, kind) == (0, "MachineError")
    assert "its newest entries lie beside it" in told


def test_without_the_right_to_read_or_to_make(three_entries: Path) -> None:
    new = three_entries.parent / "new"
    three_entries.parent.chmod(0o500)
    assert used(new, "create") == (0, 0, "MachineError", f"{new}: permission denied")
    three_entries.chmod(0o000)
    assert used(three_entries) == (0, 0, "MachineError", f"{three_entries}: permission denied")
