"""Read the rotation of a session: its keys in order, how many a day, what moves it on.

Rule    an order of keys starts on the lowest note of the compass unless told; a list stands as written. A key that
        has no effect beside another is a mistake, not a thing to pass over.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from droner.practice.pattern import Patterns, Variant
from droner.practice.reading.pattern_table import NO_VARIANTS
from droner.practice.reading.session_table import BY_CALENDAR, FIRST_DAY, WHEN_DONE
from droner.practice.reading.sheet_reading import Place
from droner.practice.reading.shown_fields import shown
from droner.practice.session import RotationOrder
from droner.theory.key import Key
from droner.theory.key_order import key_order
from droner.theory.pitch import NoteName

USUAL_KEYS_PER_DAY = 6


def check_rotation(
    row: Mapping[str, Any], written: Mapping[str, Any], place: Place, lowest: NoteName, patterns: Patterns
) -> None:
    """Report what does not go together. `written` is the table as it stands in the file, {} without one."""
    if isinstance(row.get("keys"), tuple) and "start" in written:
        place["start"].wrong(
            "a list of keys starts with its first key", found=shown(written["start"]), allowed="an order by name"
        )
    keys = _keys(row, lowest)
    if keys and row.get("keys_per_day", 1) > len(keys):
        problem = f"there are only {len(keys)} keys in the rotation"
        place["keys_per_day"].wrong(problem, found=str(row["keys_per_day"]), allowed=f"1 to {len(keys)}")
    _check_moves(row, written, place)
    if row.get("variants", NO_VARIANTS) != NO_VARIANTS and not variants_of(row, patterns):
        problem = "the table of variants has none of this set"
        others = [name for name in patterns.variant_sets if patterns.variants_of(name)]
        place["variants"].wrong(problem, found=shown(row["variants"]), allowed="; ".join([*others, NO_VARIANTS]))


def variants_of(row: Mapping[str, Any], patterns: Patterns) -> tuple[Variant, ...]:
    """The variants that a rotation goes through; none where it asks for none, or cannot be read."""
    name = row.get("variants", NO_VARIANTS)
    return () if name == NO_VARIANTS else patterns.variants_of(name)


def _check_moves(row: Mapping[str, Any], written: Mapping[str, Any], place: Place) -> None:
    moves = row.get("moves")
    if moves == BY_CALENDAR and "moves" in written and "begins" not in written:
        place["moves"].wrong(
            "the first day is missing", found=shown(BY_CALENDAR), allowed="begins = 2026-01-31 beside it"
        )
    if moves == WHEN_DONE and "begins" in written:
        problem = "the first day counts only for a rotation by the calendar"
        place["begins"].wrong(problem, found=shown(written["begins"]), allowed=f'moves = "{BY_CALENDAR}"')
    if moves == BY_CALENDAR and row.get("done"):
        problem = "items done count only for a rotation that moves when done"
        place["done"].wrong(problem, found=shown(row["done"]), allowed=f'moves = "{WHEN_DONE}"')


def _keys(row: Mapping[str, Any], lowest: NoteName) -> tuple[Key, ...]:
    keys = row.get("keys", ())
    return key_order(keys, row.get("start", lowest)) if isinstance(keys, str) else keys


def rotation_of(row: Mapping[str, Any], lowest: NoteName) -> RotationOrder:
    """The rotation of a table in which nothing is wrong."""
    keys = _keys(row, lowest)
    by_calendar = row["moves"] == BY_CALENDAR
    return RotationOrder(
        keys,
        row.get("keys_per_day", min(USUAL_KEYS_PER_DAY, len(keys))),
        row["variants"],
        by_calendar,
        row.get("begins", FIRST_DAY) if by_calendar else None,
        row.get("done", 0),
    )
