"""Start programs that log, and see what a logbook's folder holds."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

SOURCE = Path(__file__).resolve().parents[3]
PROGRAM = Path(__file__).with_name("logging_child.py")
SURROUNDINGS = os.environ | {"PYTHONPATH": str(SOURCE), "PYTHONWARNINGS": "error"}
DEADLINE_SECONDS = 300
"""What is not done by then hangs."""


def command(*arguments: object) -> list[str]:
    return [sys.executable, str(PROGRAM), *map(str, arguments)]


def child(*arguments: object, before: Callable[[], None] | None = None, through: tuple[str, ...] = ()) -> Any:
    """What the program told at its end, in JSON. `before` runs in it first; `through` starts it."""
    ran = subprocess.run(
        [*through, *command(*arguments)],
        env=SURROUNDINGS,
        capture_output=True,
        text=True,
        timeout=DEADLINE_SECONDS,
        preexec_fn=before,
        check=False,
    )
    assert ran.returncode == 0, ran.stderr
    return json.loads(ran.stdout)


def bytes_of(folder: Path) -> dict[str, bytes]:
    """Every file of a folder, byte for byte."""
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}


def left_by_a_kill(file: Path, *statements: str) -> None:
    """Write with a program that is killed, so that its journal stays beside the file."""
    program = f"""
import os, sqlite3, sys
writing = sqlite3.connect(sys.argv[1], isolation_level=None)
for statement in {statements!r}:
    writing.execute(statement)
os.kill(os.getpid(), 9)
"""
    subprocess.run([sys.executable, "-c", program, file], check=False)
