"""Lay the ledger of an item's chords out, as a page and as data.

Rule    a chord takes a line, and a second one below where tones of it have moved. The page keeps to 80 columns
        however wide the terminal is: its numbers are read down, not along.
Units   cents against equal temperament, and from the anchored place; negative below.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from droner.cli.day import check_items
from droner.cli.table import table, wrapped
from droner.practice.pattern import HELD_NOTE
from droner.score.ledger import laps, ledger
from droner.score.tunings import ItemTuning

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from droner.cli.day import Day
    from droner.practice.item import Item
    from droner.practice.session import Session
    from droner.score.ledger import LedgerChord, LedgerTone

STAYS_CENTS = 0.05
"""What is less is shown as nothing: the page has one decimal."""
PAGE_COLUMNS = 80
HEADS = ("bar", "numeral", "chord", "drift")
MOVED = "moved"
"""Stands before the second line of a chord."""
ABOUT = (
    "Behind each tone its cents against equal temperament; below, how far it has moved from its anchored place. "
    "A chord has drifted as far as its root."
)


def ledger_of(day: Day, number: int) -> tuple[LedgerChord, ...]:
    """The ledger of one item of the plan. UsageError where there is none."""
    check_items(day, (number,))
    rows = ledger(day.plan.items[number - 1].item, day.session)
    if not rows:
        raise click.UsageError(f"No chords sound in item {number}.")
    return rows


def page(day: Day, number: int, rows: Sequence[LedgerChord]) -> str:
    """The ledger as a page."""
    item = day.plan.items[number - 1].item
    head = f"{number} {item.name}: {item.changes.name}; {_tuned(day.session, item)}"
    voices = max(len(row.tones) for row in rows)
    heads = (*HEADS, "tones", *[""] * (voices - 1))
    right = {HEADS.index("bar"), HEADS.index("drift"), *range(len(HEADS) + 1, len(heads))}
    cells = [line for row in rows for line in _lines(row, voices, _pitch_width(rows))]
    parts = (wrapped(head, PAGE_COLUMNS), table(cells, heads, right), *_remarks(rows, item))
    return "\n\n".join(parts)


def ledger_data(rows: Sequence[LedgerChord]) -> list[dict[str, Any]]:
    """The ledger as data."""
    return [
        {
            "bar": row.bar,
            "numeral": row.numeral or None,
            "chord": row.symbol,
            "drift_cents": row.drift_cents,
            "tones": [
                {"pitch": str(tone.pitch), "equal_cents": tone.equal_cents, "moved_cents": tone.moved_cents}
                for tone in row.tones
            ],
        }
        for row in rows
    ]


def _tuned(session: Session, item: Item) -> str:
    """How the chords are tuned; only just tuning has a choice of policies, and a held note goes by its own rule."""
    temperament = ItemTuning(session, item).whole.temperament.name
    has_choice = temperament == "just" and item.changes.kind != HELD_NOTE
    return f"{temperament} tuning" + (f", chords {session.tuning.chords}" if has_choice else "")


def _pitch_width(rows: Sequence[LedgerChord]) -> int:
    return max(len(str(tone.pitch)) for row in rows for tone in row.tones)


def _lines(row: LedgerChord, voices: int, pitch_width: int) -> Iterator[tuple[str, ...]]:
    """A chord, and what has moved in it."""
    none = [""] * (voices - len(row.tones))
    tones = [_tone(tone, pitch_width) for tone in row.tones]
    yield str(row.bar), row.numeral, row.symbol, _cents(row.drift_cents), *tones, *none
    if any(abs(tone.moved_cents) >= STAYS_CENTS for tone in row.tones):
        moved = [_cents(tone.moved_cents).rjust(len(shown)) for tone, shown in zip(row.tones, tones, strict=True)]
        yield "", MOVED, "", "", *moved, *none


def _tone(tone: LedgerTone, pitch_width: int) -> str:
    return f"{tone.pitch!s:<{pitch_width}} {_cents(tone.equal_cents):>5}"


def _remarks(rows: Sequence[LedgerChord], item: Item) -> Iterator[str]:
    yield wrapped(ABOUT, PAGE_COLUMNS)
    if all(abs(row.drift_cents) < STAYS_CENTS for row in rows):
        yield "Nothing drifts."
        return
    moved = (row for row in laps(rows) if abs(row.drift_cents) >= STAYS_CENTS)
    drifts = ", ".join(f"{_cents(row.drift_cents)} in bar {row.bar}" for row in moved)
    if drifts:
        yield wrapped(f"Each time {rows[0].symbol} comes again it has drifted: {drifts}.", PAGE_COLUMNS)
    still = ", so far from the drone, which stands still" if _has_still_drone(item) else ""
    yield wrapped(f"At the end the chords have drifted by {_cents(rows[-1].drift_cents)} cents{still}.", PAGE_COLUMNS)


def _has_still_drone(item: Item) -> bool:
    return bool(item.drone.degrees) and item.drone.moves == "never" and item.block.partner is None


def _cents(cents: float) -> str:
    return f"{cents:+.1f}" if abs(cents) >= STAYS_CENTS else "0.0"
