"""Lay the instruments out, as a page and as data. Compasses are as the player reads them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from droner.cli.names import pick
from droner.cli.table import table, wrapped
from droner.theory.instrument import INSTRUMENTS, LEVELS, instrument
from droner.theory.pitch import NoteName

if TYPE_CHECKING:
    from collections.abc import Sequence

    from droner.theory.instrument import Instrument

HEADS = ("instrument", "C4 sounds", "clef", *LEVELS, "louder goes")
EXPLAINED = (
    "Compasses are written notes, as you read them; a session may name its own (range). "
    '"C4 sounds" is what is heard for a written C4, "louder goes" where the pitch drifts when you play louder.'
)
WRITTEN_C4 = NoteName(0).in_octave(4)


def named(name: str | None) -> list[Instrument]:
    """The instrument of that name; all of them for none. UsageError for an unknown one."""
    if name is None:
        return list(INSTRUMENTS.values())
    try:
        return [instrument(name)]
    except ValueError:
        others = [other for one in INSTRUMENTS.values() for other in one.aliases]
        return [instrument(pick(name, INSTRUMENTS, "instrument", others))]


def page(rows: Sequence[Instrument], wide: int) -> str:
    """The table, and what its columns say."""
    cells = [
        (row.name, str(row.sounds(WRITTEN_C4)), row.clef, *(str(row.ranges[level]) for level in LEVELS), row.loud_goes)
        for row in rows
    ]
    return f"{table(cells, HEADS)}\n\n{wrapped(EXPLAINED, wide)}"


def instrument_data(row: Instrument) -> dict[str, Any]:
    """One instrument as data."""
    return {
        "name": row.name,
        "aliases": list(row.aliases),
        "family": row.family,
        "written_c4_sounds": str(row.sounds(WRITTEN_C4)),
        "clef": row.clef,
        "written_range": {
            level: {"low": str(row.ranges[level].low), "high": str(row.ranges[level].high)} for level in LEVELS
        },
        "middle": str(row.middle),
        "overblows": row.overblows,
        "louder_goes": row.loud_goes,
    }
