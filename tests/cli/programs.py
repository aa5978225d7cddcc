"""Run the real program, as a player's shell would: another process, its own folder, its exit code.

Rule    nothing here knows what droner prints; it only gives back what came.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import droner

SOURCE = Path(droner.__file__).resolve().parent.parent
DRONER = (sys.executable, "-m", "droner")
LONGEST_RUN_SECONDS = 300
SHORT_SESSION = 'title = "Two thirds"\n[rotation]\nkeys_per_day = 2\n[[block]]\ndrill = "thirds"\n'
"""Invented: one drill in two keys, so that its tracks are made in no time."""


@dataclass(frozen=True, slots=True)
class Ran:
    """What came of a run."""

    code: int
    out: str
    err: str

    @property
    def data(self) -> Any:
        """The whole of stdout as JSON: a message among the data would not parse."""
        return json.loads(self.out)

    @property
    def lines(self) -> list[str]:
        return self.out.splitlines()


def surroundings(**more: str) -> dict[str, str]:
    """The environment of a run: this droner, no terminal, a steady width."""
    kept = {name: value for name, value in os.environ.items() if name not in ("COLUMNS", "PYTHONIOENCODING")}
    return kept | {"PYTHONPATH": str(SOURCE), "PYTHONUTF8": "1"} | more


def droner_in(
    folder: Path,
    *arguments: str,
    environment: Mapping[str, str] | None = None,
    before: Callable[[], None] | None = None,
) -> Ran:
    """`droner ARGUMENTS` in a folder; `before` runs in the new process before it starts."""
    done = subprocess.run(
        [*DRONER, *arguments],
        cwd=folder,
        env=surroundings(**(environment or {})),
        preexec_fn=before,
        capture_output=True,
        stdin=subprocess.DEVNULL,
        timeout=LONGEST_RUN_SECONDS,
        check=False,
    )
    return Ran(done.returncode, _text(done.stdout), _text(done.stderr))


def _text(data: bytes) -> str:
    return data.decode("utf-8", "surrogateescape")


def files_in(folder: Path) -> set[str]:
    """Every file and folder below, hidden ones too."""
    return {str(path.relative_to(folder)) for path in folder.rglob("*")}
