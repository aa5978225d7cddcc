"""Read how an item went, as a player writes it: "4/5", "4/5 at 88", "4/5 at 88, tongue late", "= at 88".

Rule    clean runs, a stroke, all runs; then, in talk, the tempo and a note. What cannot be read is refused with what is
        allowed; nothing is guessed.
"""

from __future__ import annotations

import re
from fractions import Fraction

from droner.cli.logging_day import Told
from droner.practice.logbook.entry import LONGEST_NOTE, MOST_BPM, MOST_RUNS

HOW = 'clean runs of all, such as 4/5; then, if you like, "at 88" and, after a comma, a note'
_RUNS = re.compile(r"(?P<clean>[0-9]{1,4})\s*/\s*(?P<total>[0-9]{1,4})")
_ALL_CLEAN = "="
_LINE = re.compile(
    rf"(?:{_RUNS.pattern}|{_ALL_CLEAN})(?:\s+at\s+(?P<bpm>[0-9]{{1,4}}(?:\.[0-9]{{1,3}})?))?(?:\s*,\s*(?P<note>.*))?",
    re.DOTALL,
)


def runs(text: str) -> tuple[int, int]:
    """Clean runs and all runs. ValueError for anything else."""
    found = _RUNS.fullmatch(text.strip())
    if not found:
        raise ValueError(f"{text!r} is not clean runs of all runs, such as 4/5")
    return _possible(int(found["clean"]), int(found["total"]))


def told(line: str, all_runs: int) -> Told:
    """A whole line; `all_runs`: how many "=" stands for. ValueError for what cannot be read or cannot be."""
    found = _LINE.fullmatch(line.strip())
    if not found:
        raise ValueError(f"{line.strip()!r} is not {HOW}")
    clean, total = _possible(int(found["clean"] or all_runs), int(found["total"] or all_runs))
    bpm, note = Fraction(found["bpm"]) if found["bpm"] else None, (found["note"] or "").strip()
    if bpm is not None and not 0 < bpm <= MOST_BPM:
        raise ValueError(f"a tempo lies above 0 and up to {MOST_BPM} beats a minute")
    if len(note) > LONGEST_NOTE:
        raise ValueError(f"a note has {LONGEST_NOTE} letters at most")
    return Told(clean, total, bpm, note=note)


def _possible(clean: int, total: int) -> tuple[int, int]:
    if not 0 <= clean <= total or not 1 <= total <= MOST_RUNS:
        raise ValueError(f"{clean}/{total} cannot be: at most as many clean runs as runs, and 1 to {MOST_RUNS} runs")
    return clean, total
