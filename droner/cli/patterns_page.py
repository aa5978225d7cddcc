"""Lay the pattern library out, as a page and as data.

Units   in data: lengths as fractions of a quarter note ("1/4"), other numbers as they are; a timbre's partials in
        decibels against the first.
"""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from enum import Enum
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from droner.cli.kind_table import KINDS
from droner.cli.table import table, wrapped
from droner.practice.ladder.climb_table import CLIMBS
from droner.sound.timbre_table import TIMBRES
from droner.theory.key_order import KEY_ORDERS
from droner.units import Beats

if TYPE_CHECKING:
    from collections.abc import Iterable

    from droner.practice.pattern import Patterns

WORDS_ONLY = {"orders": KEY_ORDERS, "climbs": CLIMBS}
"""What stands in no file of patterns, and is a name and a sentence."""


def page(patterns: Patterns, kinds: Iterable[str], wide: int) -> str:
    """Every kind under its heading."""
    return "\n\n".join(f"{wrapped(KINDS[kind], wide)}\n{_listed(_rows(patterns, kind), wide)}" for kind in kinds)


def _listed(rows: Iterable[tuple[str, str]], wide: int) -> str:
    return table([(f"  {name}", about) for name, about in rows], page=wide)


def _rows(patterns: Patterns, kind: str) -> list[tuple[str, str]]:
    if kind in WORDS_ONLY:
        return list(WORDS_ONLY[kind].items())
    if kind == "timbres":
        return [(name, timbre.about) for name, timbre in TIMBRES.items()]
    if kind == "variants":
        sets = [(name, row.about) for name, row in patterns.variant_sets.items()]
        return [*sets, *((str(row.number), row.words) for row in patterns.variants)]
    return [(name, row.about) for name, row in getattr(patterns, kind).items()]


def patterns_data(patterns: Patterns, kinds: Iterable[str]) -> dict[str, Any]:
    """Every kind as a list of its rows; the sets of variants besides the variants."""
    data: dict[str, Any] = {}
    for kind in kinds:
        if kind in WORDS_ONLY:
            data[kind] = [{"name": name, "about": about} for name, about in WORDS_ONLY[kind].items()]
        elif kind == "timbres":
            data[kind] = [{"name": name} | _plain(timbre) for name, timbre in TIMBRES.items()]
        elif kind == "variants":
            data["variant_sets"] = _plain(tuple(patterns.variant_sets.values()))
            data[kind] = _plain(patterns.variants)
        else:
            data[kind] = _plain(tuple(getattr(patterns, kind).values()))
    return data


def _plain(value: Any) -> Any:
    """A row as JSON can hold it."""
    if isinstance(value, tuple):
        return [_plain(each) for each in value]
    if isinstance(value, Beats):
        return str(value.exact)
    if isinstance(value, Fraction):
        return float(value)
    if isinstance(value, Enum):
        return value.value
    if is_dataclass(value):
        return {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
    return value
