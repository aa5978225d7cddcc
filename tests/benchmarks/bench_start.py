"""How long droner takes to answer, against Python loading click and nothing else.

Yardstick  `python -c "import click"` in the same run: the least that a program with this library costs.
Method     cold processes, one of each kind in turn so that a busy machine is busy for all; medians of wall time, and
           of processor time, which a busy machine disturbs less. Nothing is asserted.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

import droner

ROUNDS = 25
USUAL = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
"""Bytecode is kept, as on a player's machine."""
SOURCE = Path(droner.__file__).resolve().parent.parent
YARDSTICK = "import click"
ASKED: dict[str, Sequence[str]] = {
    "python alone": ("-c", "pass"),
    YARDSTICK: ("-c", YARDSTICK),
    "droner --help": ("-m", "droner", "--help"),
    "droner today --help": ("-m", "droner", "today", "--help"),
    "droner today": ("-m", "droner", "today", "--quiet"),
    "droner beats D3": ("-m", "droner", "beats", "D3"),
    "droner patterns": ("-m", "droner", "patterns"),
}


def cost_of(arguments: Sequence[str], folder: Path) -> tuple[float, float]:
    """Seconds of wall time and of processor time that a process takes."""
    before, began = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    subprocess.run(
        [sys.executable, *arguments],
        cwd=folder,
        env=USUAL | {"PYTHONPATH": str(SOURCE)},
        stdout=subprocess.DEVNULL,
        check=True,
    )
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    used = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return time.perf_counter() - began, used


def main() -> None:
    """Print a line for each command."""
    costs: dict[str, list[tuple[float, float]]] = {name: [] for name in ASKED}
    with TemporaryDirectory() as made:
        for turn in range(ROUNDS + 1):
            for name, arguments in ASKED.items():
                cost = cost_of(arguments, Path(made))
                if turn:  # the first turn warms the disk, and writes the bytecode
                    costs[name].append(cost)
    wall, used = medians(costs[YARDSTICK])
    print(f"{'':22} {'wall':>8} {'ratio':>6} {'processor':>10} {'ratio':>6}")
    for name, each in costs.items():
        its_wall, its_used = medians(each)
        in_wall, in_used = f"{its_wall * 1000:.0f} ms", f"{its_used * 1000:.0f} ms"
        print(f"{name:22} {in_wall:>8} {its_wall / wall:6.2f} {in_used:>10} {its_used / used:6.2f}")


def medians(costs: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """The middle wall time and the middle processor time."""
    return median(wall for wall, _ in costs), median(used for _, used in costs)


if __name__ == "__main__":
    main()
