"""Show entries of the logbook, as a page and as data."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from droner.cli.table import table
from droner.score.words import shown_bpm

if TYPE_CHECKING:
    from collections.abc import Sequence

    from droner.practice.logbook.entry import Entry

HEADS = ("name", "day", "drill", "key", "variant", "tempo", "clean", "note")
RIGHT = frozenset({4, 5})
NAME_SHOWN = 8
"""Signs of a name that are shown: enough to find one of thousands."""


def page(entries: Sequence[Entry], wide: int) -> str:
    """A line for each entry."""
    return table([_row(entry) for entry in entries], HEADS, RIGHT, page=wide)


def entry_data(entry: Entry) -> dict[str, Any]:
    """An entry as data; seconds and tempo as numbers."""
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
        "tempo_bpm": float(entry.bpm),
        "step": entry.step or None,
        "clean": entry.clean,
        "total": entry.total,
        "seconds": None if entry.seconds is None else float(entry.seconds),
        "judged": entry.judged,
        "note": entry.note,
        "corrects": entry.corrects or None,
    }


def _row(entry: Entry) -> tuple[str, ...]:
    return (
        entry.name[:NAME_SHOWN],
        entry.day.isoformat(),
        entry.drill,
        entry.key,
        str(entry.variant) if entry.variant else "",
        entry.step or shown_bpm(entry.bpm),
        "taken back" if entry.takes_back else f"{entry.clean}/{entry.total}",
        "; ".join(
            filter(None, (_on_one_line(entry.note), f"for {entry.corrects[:NAME_SHOWN]}" if entry.corrects else ""))
        ),
    )


def _on_one_line(note: str) -> str:
    return " ".join("".join(sign if sign.isprintable() else " " for sign in note).split())
