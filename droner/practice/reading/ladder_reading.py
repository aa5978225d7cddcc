"""Read the ladder of a block: where it starts and ends, how it climbs, what leads up and down.

Rule    what a climb does not do cannot be asked of it: steps for one that stays at its target.
Units   tempos in beats of the drill's meter a minute; shares in per cent.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from droner.practice.ladder.climb_table import COLD
from droner.practice.reading.session_table import STEADY_CLIMBS
from droner.practice.reading.sheet_reading import Place
from droner.practice.reading.shown_fields import shown
from droner.practice.session import LadderOrder

STEPS = ("step_per_cent", "step_bpm")
RESTARTS = (("after_a_night", 1), ("after_3_days", 3), ("after_10_days", 10))
"""The keys that say at how much of the secure tempo a drill starts again, and from how many days away on."""


def check_ladder(row: Mapping[str, Any], written: Mapping[str, Any], block: Mapping[str, Any], place: Place) -> None:
    """Report what does not go together in a ladder. `written`: as it stands in the file; `block`: what it stands in."""
    if "from" in row and "to" in row and row["from"] >= row["to"]:
        found = f"from {float(row['from']):g} to {float(row['to']):g}"
        place.wrong("a ladder climbs", found=found, allowed="from lower than to")
    if all(key in written for key in STEPS):
        place[STEPS[1]].wrong("steps have one size", found="two sizes", allowed=f"{STEPS[0]} or {STEPS[1]}")
    if row.get("climb") in STEADY_CLIMBS:
        for key in (key for key in (*STEPS, "fine_from") if key in written):
            problem = f'the climb "{row["climb"]}" stays at one tempo and has no steps'
            place[key].wrong(problem, found=shown(written[key]), allowed="no steps, or another climb")
    if row.get("climb") == COLD:
        for key in (key for key in ("runs", "end_runs") if key in written):
            problem = "a cold run is one run, without others before or after it"
            place[key].wrong(problem, found=shown(written[key]), allowed="no other runs, or another climb")
    if "runs" in written and "speeds" in block:
        place["runs"].wrong("the block's own speeds say this too", found="runs and speeds", allowed="one of them")
    shares = [row[key] for key, _ in RESTARTS if key in row]
    if shares != sorted(shares, reverse=True):
        found = ", ".join(f"{float(share):g}" for share in shares)
        place.wrong("the longer away, the slower it starts again", found=found, allowed="shares that do not grow")


def ladder_order(row: Mapping[str, Any]) -> LadderOrder | None:
    """The ladder of a table, as far as it can be told while there may be mistakes; None where it does not climb."""
    if "from" not in row or "to" not in row or row["from"] >= row["to"]:
        return None
    usual = LadderOrder(row["from"], row["to"])
    return LadderOrder(
        row["from"],
        row["to"],
        **{key: row.get(key, getattr(usual, key)) for key in PLAIN_KEYS},
        restart=tuple(
            (days, row.get(key, share)) for (key, days), (_, share) in zip(RESTARTS, usual.restart, strict=True)
        ),
    )


PLAIN_KEYS = (
    "climb", "each", "step_per_cent", "step_bpm", "fine_from", "up_after", "clean_share", "down_after", "down_by",
    "plateau_days", "runs", "end_runs", "end_at",
)  # fmt: skip
"""Keys that an order calls by the same name."""
