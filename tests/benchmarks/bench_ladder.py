"""How long a hundred thousand entries take to fold, against json reading the same entries.

Yardstick  `json.loads` of the same entries in the same run: the least that a program costs which only gets them back.
Method     medians of wall time and of processor time, which a busy machine disturbs less. Nothing is asserted.
Run        python tests/benchmarks/bench_ladder.py
"""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Callable
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path
from random import Random
from statistics import median

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from droner.practice.ladder.fold import climbed
from droner.practice.ladder.rung import rungs
from droner.practice.ladder.state import Run
from droner.practice.session import LadderOrder

ENTRIES, A_DAY, ROUNDS = 100_000, 20, 7
ORDER = LadderOrder(Fraction(60), Fraction(126))
RESULTS = ((0, 1), (1, 1), (1, 1), (3, 3), (2, 3))
"""Clean runs and all runs of an entry, drawn at random: invented."""


def entries() -> list[Run]:
    """Years of practice at every rung."""
    chance, climb = Random(1), rungs(ORDER)
    return [
        Run(
            date(2000, 1, 1) + timedelta(days=count // A_DAY),
            Fraction(chance.choice(climb).bpm),
            "",
            *chance.choice(RESULTS),
        )
        for count in range(ENTRIES)
    ]


def timed(work: Callable[[], object]) -> tuple[float, float]:
    """Seconds of wall time and of processor time."""
    wall, used = time.perf_counter(), time.process_time()
    work()
    return time.perf_counter() - wall, time.process_time() - used


def main() -> None:
    """Measure and print."""
    runs = entries()
    rows = json.dumps([[str(run.day), str(run.bpm), run.step, run.clean, run.total] for run in runs])
    for name, work in (("fold", lambda: climbed(ORDER, runs)), ("json", lambda: json.loads(rows))):
        wall, used = zip(*(timed(work) for _ in range(ROUNDS)), strict=True)
        print(f"{name}: {median(wall):.3f} s, {median(used):.3f} s of processor time, for {ENTRIES} entries")


if __name__ == "__main__":
    main()
