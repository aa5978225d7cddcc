"""Lay the ledger of an item's chords out, as a page and as data.

Units   cents against equal temperament; in brackets, how far a tone has moved from its anchored place.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from droner.cli.table import table, wrapped
from droner.score.ledger import ledger

if TYPE_CHECKING:
    from collections.abc import Sequence

    from droner.cli.day import Day
    from droner.score.ledger import LedgerChord, LedgerTone

STAYS_CENTS = 0.05
"""What has moved less is shown as not moved."""


def ledger_of(day: Day, number: int) -> tuple[LedgerChord, ...]:
    """The ledger of one item of the plan. UsageError where there is none."""
    items = day.plan.items
    if not 1 <= number <= len(items):
        raise click.UsageError(f"The plan has items 1 to {len(items)}; there is no item {number}.")
    rows = ledger(items[number - 1].item, day.session)
    if not rows:
        raise click.UsageError(f"Item {number} has no chords.")
    return rows


def page(day: Day, number: int, rows: Sequence[LedgerChord], wide: int) -> str:
    """The ledger as a page."""
    order, item = day.session.tuning, day.plan.items[number - 1].item
    head = f"{number} {item.name}: {item.changes.name}, {order.chords} ({order.temperament} tuning)"
    cells = [(str(row.bar), row.symbol, _drift(row.drift_cents), "  ".join(map(_tone, row.tones))) for row in rows]
    about = "cents against equal temperament; in brackets, how far a tone has moved from its anchored place"
    return "\n\n".join(
        (
            wrapped(head, wide),
            table(cells, ("bar", "chord", "drift", "tones"), {0, 2}, page=wide),
            wrapped(f"{about}. At the end the chords have drifted {_drift(rows[-1].drift_cents)} cents.", wide),
        )
    )


def ledger_data(rows: Sequence[LedgerChord]) -> list[dict[str, Any]]:
    """The ledger as data."""
    return [
        {
            "bar": row.bar,
            "chord": row.symbol,
            "drift_cents": row.drift_cents,
            "tones": [
                {"pitch": str(tone.pitch), "equal_cents": tone.equal_cents, "moved_cents": tone.moved_cents}
                for tone in row.tones
            ],
        }
        for row in rows
    ]


def _tone(tone: LedgerTone) -> str:
    moved = f" ({_drift(tone.moved_cents)})" if abs(tone.moved_cents) >= STAYS_CENTS else ""
    return f"{tone.pitch} {tone.equal_cents:+.1f}{moved}"


def _drift(cents: float) -> str:
    return f"{cents:+.1f}" if abs(cents) >= STAYS_CENTS else "0.0"
