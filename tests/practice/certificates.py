"""Certificates of small rotations, for their tests, and what a recheck tells of them. The entries are invented."""

from __future__ import annotations

import json
from datetime import date, timedelta
from functools import lru_cache
from hashlib import sha256
from typing import Any

import pytest

from droner.errors import MistakesFound
from droner.practice.certificate import Certificate, certificate_of, text_of
from droner.practice.coverage import Asked, Follower, coverage, first_entries
from droner.practice.logbook.entry import Entry
from droner.practice.recheck import recheck
from droner.practice.rotation import Rotation, rotation
from tests.practice.entries import entry

MONDAY, LAST = date(2026, 1, 5), date(2026, 6, 30)
FILE = "cycle.jsonl"
DRILLS = (Follower("turning scale"), Follower("thirds", turning=False, own=(0,)))
Lines = list[dict[str, Any]]


def asked(keys: int, variants: int, offsets: tuple[int, ...] = ()) -> Asked:
    walk = Rotation(keys, variants, offsets) if offsets else rotation(keys, variants)
    names = tuple(f"key {key}" for key in range(keys))
    return Asked(
        "Winter, \N{LATIN SMALL LETTER U WITH DIAERESIS}ben",
        "flute",
        walk,
        names,
        tuple(range(5, 5 + variants)),
        DRILLS,
    )


def logged(order: Asked, places: list[int], drill: str = "turning scale") -> list[Entry]:
    return [
        entry(
            MONDAY + timedelta(number // 6), 3, 4, drill=drill, key=order.brought(place)[0],
            variant=0 if drill == "thirds" else order.brought(place)[1], place=place, session=order.title,
        )
        for number, place in enumerate(places)
    ]  # fmt: skip


def certified(order: Asked, entries: list[Entry], cycle: int = 0) -> Certificate:
    words = {variant: f"way {variant}" for variant in order.variants}
    covered = coverage(order, first_entries(order, entries), cycle, lambda _: False)
    return certificate_of(covered, LAST, words)


@lru_cache(maxsize=1)
def small() -> tuple[str, tuple[Entry, ...]]:
    """Three keys in four variants, more than half of them played, as a file; and the logbook."""
    order = asked(3, 4)
    entries = [*logged(order, [0, 1, 2, 4, 5, 7, 11]), *logged(order, [1, 2, 3], "thirds")]
    return text_of(certified(order, entries)), tuple(entries)


def mistakes_in(text: str) -> list[tuple[int, str]]:
    """Line and key of each mistake that is told."""
    with pytest.raises(MistakesFound) as told:
        recheck(text.encode("utf-8", "surrogatepass"), FILE)
    return [(mistake.line, mistake.key) for mistake in told.value.mistakes]


def with_sum(rows: Lines) -> str:
    """The lines with a sum that agrees: a forger who knows the recipe."""
    body = "".join(f"{json.dumps(row)}\n" for row in rows[:-1])
    return body + json.dumps({"line": "sum", "sha256": sha256(body.encode()).hexdigest()}) + "\n"


def turn_line(rows: Lines, place: int) -> int:
    return next(number for number, row in enumerate(rows, 1) if row["line"] == "turn" and row["place"] == place)
