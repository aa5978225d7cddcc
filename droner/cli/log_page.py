"""Show entries of the logbook, as a page and as data.

Rule    a tempo is shown as it was played, and the ladder's beside it where the rhythm slowed the beat; where the rhythm
        is not known here, the ladder's alone.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from droner.cli.table import table
from droner.score.words import shown_bpm

if TYPE_CHECKING:
    from collections.abc import Sequence
    from fractions import Fraction

    from droner.practice.logbook.entry import Entry

HEADS: tuple[str, ...] = ("name", "day", "drill", "key", "variant", "tempo", "ladder", "clean", "note")
RIGHT = frozenset({4, 5, 6})
LADDER = HEADS.index("ladder")
Played = Callable[["Entry"], "Fraction | None"]
"""Tells the tempo at which an entry was played; None where it cannot be known."""
NAME_SHOWN = 8
"""Signs of a name that are shown: enough to find one of thousands."""


def page(entries: Sequence[Entry], played: Played, wide: int) -> str:
    """A line for each entry. The ladder's tempos have a column if any is another than was played."""
    rows, heads, right = [_row(entry, played(entry)) for entry in entries], HEADS, RIGHT
    if not any(row[LADDER] for row in rows):
        rows, heads = [_without_ladder(row) for row in rows], _without_ladder(heads)
        right = RIGHT - {LADDER}
    return table(rows, heads, right, page=wide)


def entry_data(entry: Entry, played_bpm: Fraction | None) -> dict[str, Any]:
    """An entry as data; seconds and tempos as numbers."""
    return {
        "name": entry.name,
        "written": entry.written.isoformat(),
        "date": entry.day.isoformat(),
        "session": entry.session,
        "instrument": entry.instrument,
        "drill": entry.drill,
        "key": entry.key or None,
        "variant": entry.variant or None,
        "place": entry.place,
        "tempo_bpm": None if played_bpm is None else float(played_bpm),
        "ladder_bpm": float(entry.bpm),
        "step": entry.step or None,
        "clean": entry.clean,
        "total": entry.total,
        "seconds": None if entry.seconds is None else float(entry.seconds),
        "judged": entry.judged,
        "note": entry.note,
        "corrects": entry.corrects or None,
    }


def _row(entry: Entry, played_bpm: Fraction | None) -> tuple[str, ...]:
    return (
        entry.name[:NAME_SHOWN],
        entry.day.isoformat(),
        entry.drill,
        entry.key,
        str(entry.variant) if entry.variant else "",
        entry.step or ("" if played_bpm is None else shown_bpm(played_bpm)),
        "" if entry.step or played_bpm == entry.bpm else shown_bpm(entry.bpm),
        "taken back" if entry.takes_back else f"{entry.clean}/{entry.total}",
        "; ".join(
            filter(None, (_on_one_line(entry.note), f"for {entry.corrects[:NAME_SHOWN]}" if entry.corrects else ""))
        ),
    )


def _without_ladder(row: tuple[str, ...]) -> tuple[str, ...]:
    return (*row[:LADDER], *row[LADDER + 1 :])


def _on_one_line(note: str) -> str:
    return " ".join("".join(sign if sign.isprintable() else " " for sign in note).split())
