"""Give the ladders of a session as data for programs.

Rule    names of keys stay what they are; new ones may be added. What does not apply is null.
Units   tempos in the meter's beats a minute; rungs count from 1.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from droner.cli.ladder_words import move_words
from droner.cli.plan_data import ladder_data

if TYPE_CHECKING:
    from datetime import date

    from droner.cli.ladder_rows import Row, Seen
    from droner.practice.ladder.rung import Rung
    from droner.practice.ladder.state import Move


def ladders_data(shown: Seen) -> dict[str, Any]:
    """All ladders of a session."""
    return {
        "session": shown.session.file,
        "title": shown.session.title,
        "instrument": shown.session.instrument.name,
        "date": shown.today.isoformat(),
        "logbook": str(shown.logbook) if shown.kept else None,
        "ladders": [_row_data(row, shown.today) for row in shown.rows],
    }


def _row_data(row: Row, today: date) -> dict[str, Any]:
    clean, total = row.week(today)
    return {
        "block": row.block.number,
        "drill": row.block.drill,
        "group": row.group or None,
        "climb": row.order.climb,
        "each": row.order.each,
        "from_bpm": float(row.order.from_bpm),
        "to_bpm": float(row.order.to_bpm),
        **(ladder_data(row.stands) or {}),
        "why": row.stands.why,
        "suggestion": row.stands.plateau_words or None,
        "secure": _rung_data(row.secure),
        "seven_days": {"clean": clean, "total": total},
        "target": {
            "date": _day(row.target.day),
            "earliest": _day(row.target.earliest),
            "latest": _day(row.target.latest),
            "why": row.target.why or None,
        },
        "first_played": _day(row.climb.first),
        "last_played": _day(row.climb.state.day),
        "rungs": [_rung_data(rung) for rung in row.way.rungs],
        "moves": [_move_data(row, move) for move in row.climb.moves],
    }


def _day(day: date | None) -> str | None:
    return day.isoformat() if day else None


def _rung_data(rung: Rung | None) -> dict[str, Any] | None:
    return {"tempo_bpm": float(rung.bpm), "step": rung.step or None} if rung else None


def _move_data(row: Row, move: Move) -> dict[str, Any]:
    return {
        "date": move.day.isoformat(),
        "from_rung": move.from_place + 1,
        "to_rung": move.to_place + 1,
        "why": move.why.value,
        "count": move.count,
        "words": move_words(row, move),
    }
