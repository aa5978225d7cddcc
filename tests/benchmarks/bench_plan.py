"""How long droner plans ten years of the built-in session, against json writing the same days down.

Yardstick  `json.dumps` of a row for each item of those days (name, key, manner, tempo, seconds) in the same run: the
           least that a program costs which only says what the plan says.
Method     a fresh planner each round, its days one after another; medians of wall time and of processor time, which
           a busy machine disturbs less. Nothing is asserted.
Run        python tests/benchmarks/bench_plan.py
"""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path
from statistics import median
from typing import TypeVar

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from droner.practice.plan import Plan, Planner
from droner.practice.reading.files import load_patterns, load_session

Made = TypeVar("Made")
TEN_YEARS = 3653
FIRST_DAY = date(2026, 1, 1)
ROUNDS = 5
MINUTES = (25, 10)
"""The session's own, and a day too short for all its keys."""


def timed(work: Callable[[], Made]) -> tuple[float, float, Made]:
    """Seconds of wall time and of processor time, and what was made."""
    wall, used = time.perf_counter(), time.process_time()
    made = work()
    return time.perf_counter() - wall, time.process_time() - used, made


def ten_years(minutes: int) -> list[Plan]:
    """Every plan of ten years."""
    patterns = load_patterns()
    planner = Planner(replace(load_session(None, patterns), minutes=Fraction(minutes)), patterns)
    return [planner.day(FIRST_DAY + timedelta(days=ahead)) for ahead in range(TEN_YEARS)]


def written_down(plans: list[Plan]) -> int:
    """The same days in JSON, row by row; how many characters that is."""
    return sum(len(json.dumps(_rows(plan))) for plan in plans)


def _rows(plan: Plan) -> list[dict[str, object]]:
    return [
        {
            "number": planned.number,
            "drill": planned.item.drill.name,
            "key": str(planned.item.key),
            "manner": planned.item.variant.words if planned.item.variant else None,
            "tempo": float(planned.item.bpm),
            "seconds": float(planned.item.seconds),
        }
        for planned in plan.items
    ]


def main() -> None:
    """Print one line for each length of day."""
    print(f"{TEN_YEARS} days of the built-in session; medians of {ROUNDS}; reading its files included")
    for minutes in MINUTES:
        planned, written = [], []
        for _ in range(ROUNDS):
            *cost, plans = timed(lambda minutes=minutes: ten_years(minutes))  # type: ignore[misc]
            planned.append(cost)
            written.append(timed(lambda plans=plans: written_down(plans))[:2])  # type: ignore[misc]
        wall, used = (median(each) for each in zip(*planned, strict=True))
        json_wall, json_used = (median(each) for each in zip(*written, strict=True))
        print(
            f"{minutes} minutes a day: {wall:.2f} s (processor {used:.2f} s); "
            f"json {json_wall:.2f} s ({json_used:.2f} s); ratio {wall / json_wall:.2f} ({used / json_used:.2f})"
        )


if __name__ == "__main__":
    main()
