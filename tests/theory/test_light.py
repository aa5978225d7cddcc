"""The theory stays light: a fresh interpreter says what importing it loads."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import droner.theory

HEAVY = {"numpy", "mido", "soundfile", "click", "json", "asyncio", "unittest", "sqlite3", "email", "http"}


def test_importing_all_of_theory_loads_nothing_heavy() -> None:
    folder = Path(droner.theory.__file__).parent
    names = sorted(file.stem for file in folder.glob("*.py") if file.stem != "__init__")
    imports = "; ".join(f"import droner.theory.{name}" for name in names)
    program = f"{imports}; import sys; print(' '.join(sys.modules))"
    run = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True, cwd=folder.parents[1]
    )
    assert "droner.theory.tuning" in run.stdout
    assert not HEAVY & set(run.stdout.split())
