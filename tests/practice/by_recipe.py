"""Count a certificate again by the recipe that stands in the file, with nothing of droner's.

Referee  sets, division with remainder, and SHA-256 of the standard library (FIPS 180-4).
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from hashlib import sha256
from typing import Any


@dataclass(frozen=True)
class Counted:
    """What a recount found."""

    played: int
    by_all: int
    entries: int
    pairs: int
    says: dict[str, Any]


def recount(text: str) -> Counted:
    """Recheck all that the recipe names; AssertionError for what does not agree."""
    rows = [json.loads(line) for line in text.splitlines()]
    body, _, last = text.rstrip("\n").rpartition("\n")
    assert json.loads(last) == {"line": "sum", "sha256": sha256(f"{body}\n".encode("ascii")).hexdigest()}

    def of(kind: str) -> list[dict[str, Any]]:
        return [row for row in rows if row["line"] == kind]

    (rule,), (says,), turns = of("rule"), of("counts"), of("turn")
    keys, variants = rule["keys"], rule["variants"]
    names, offsets = [row["name"] for row in of("key")], [row["offset"] for row in of("key")]
    numbers = [row["number"] for row in of("variant")]
    assert (len(names), len(numbers), len(turns)) == (keys, variants, keys * variants)
    for i, turn in enumerate(turns):
        assert turn["place"] == rule["first_place"] + i
        assert turn["key"] == names[i % keys]
        assert turn["variant"] == numbers[(i // keys + offsets[i % keys]) % variants]
    pairs = {(turn["key"], turn["variant"]) for turn in turns}
    assert len(pairs) == keys * variants
    drills = [row["name"] for row in of("drill")]
    for turn in turns:
        assert sorted([play["drill"] for play in turn["played"]] + turn["missing"]) == sorted(drills)
    entries = [play["entry"] for turn in turns for play in turn["played"]]
    assert len(entries) == len(set(entries))
    played = sum(bool(turn["played"]) for turn in turns)
    by_all = sum(not turn["missing"] for turn in turns)
    assert (says["turns"], says["played"], says["played_by_all"], says["not_played"]) == (
        len(turns), played, by_all, len(turns) - played,
    )  # fmt: skip
    return Counted(played, by_all, len(entries), len(pairs), says)
