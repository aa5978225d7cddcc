"""Lay the ladders out as a page: a table of all, then each with its reason and its last moves.

Rule    a column is there only where a row has something to say in it, and while the page has room: what is said again
        further down goes first. A climb at its target has its steps by number there; their names may be long.
Units   rungs count from 1; runs of the last seven days as clean of all.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.cli.ladder_words import NO_LADDER, climb_words, move_words
from droner.cli.table import GAP, column_widths, counted, table, wrapped
from droner.practice.ladder.day_words import day_name
from droner.score.words import shown_bpm

if TYPE_CHECKING:
    from collections.abc import Iterator

    from droner.cli.ladder_rows import Row, Seen

HEADS = ("drill", "group", "from", "to", "now", "rung", "secure", "7 days", "target about")
GROUP, FROM, LAST_CLEAN = 1, 2, 6
NARROWEST_TARGET = 20
"""What the last column is broken into at least."""
MOVES_SHOWN = 5
INDENT = "    "
RANGE = "{target} may be clean between {first} and {last}: 90 in 100, if it goes on as before."
MANY_ROWS_MOVES_SHOWN, MANY_ROWS = 2, 6
"""Of many ladders fewer moves are shown each: --json has all."""


def page(shown: Seen, wide: int) -> str:
    """The whole page."""
    if not shown.rows:
        return wrapped(NO_LADDER, wide)
    moves = MANY_ROWS_MOVES_SHOWN if len(shown.rows) > MANY_ROWS else MOVES_SHOWN
    parts = (
        _head(shown, wide),
        _table(shown, wide),
        *("\n".join(_ladder(shown, row, moves, wide)) for row in shown.rows),
    )
    return "\n\n".join(parts)


def _head(shown: Seen, wide: int) -> str:
    today = shown.today
    when = f"{today:%A} {today.day} {today:%B} {today.year}"
    return wrapped(f"{shown.session.title}: {when}", wide) + f"\n{shown.session.instrument.name}"


def _table(shown: Seen, wide: int) -> str:
    rows = [_cells(row, shown) for row in shown.rows]
    kept = _columns(rows, wide)
    right = {place for place, column in enumerate(kept) if column > GROUP and _is_figures(rows, column)}
    return table(
        [[row[column] for column in kept] for row in rows], [HEADS[column] for column in kept], right, page=wide
    )


def _columns(rows: list[tuple[str, ...]], wide: int) -> list[int]:
    """The columns that are shown."""
    widths = [*column_widths([HEADS, *rows])[:-1], NARROWEST_TARGET]
    kept = [column for column in range(len(HEADS)) if any(row[column] for row in rows)]
    for spared in (FROM, LAST_CLEAN):
        if spared in kept and sum(widths[column] + len(GAP) for column in kept) - len(GAP) > wide:
            kept.remove(spared)
    return kept


def _is_figures(rows: list[tuple[str, ...]], column: int) -> bool:
    """Whether a column has nothing but numbers, which stand right."""
    return column < len(HEADS) - 1 and all(row[column][:1].isdigit() or row[column] in {"", "none"} for row in rows)


def _cells(row: Row, shown: Seen) -> tuple[str, ...]:
    rungs, stands = row.way.rungs, row.stands
    clean, total = row.week(shown.today)
    return (
        row.name,
        row.group,
        rungs[0].label if row.way.by_tempo and len(rungs) > 1 else "",
        shown_bpm(row.order.to_bpm),
        stands.rung.label,
        f"{stands.place + 1} of {stands.of}",
        _secure(row),
        f"{clean} of {total}" if total else "none",
        day_name(row.target.day, shown.today) if row.target.day else row.target.why,
    )


def _secure(row: Row) -> str:
    rung = row.secure
    if rung is None:
        return "none"
    return rung.label if row.way.by_tempo else f"step {row.climb.state.clean_to}"


def _ladder(shown: Seen, row: Row, most: int, wide: int) -> Iterator[str]:
    climb = climb_words(row)
    yield f"{row.label} ({climb})" if climb else row.label
    yield wrapped(f"Why: {row.stands.why}.", wide, INDENT)
    if row.target.earliest and row.target.latest:
        ends = [day_name(each, shown.today) for each in (row.target.earliest, row.target.latest)]
        yield wrapped(RANGE.format(target=row.way.rungs[-1].label, first=ends[0], last=ends[1]), wide, INDENT)
    if row.stands.plateau:
        yield wrapped(f"Plateau: {row.stands.plateau_words}.", wide, INDENT)
    moves = row.climb.moves[-most:]
    if moves:
        count = len(row.climb.moves)
        told = f"The last {len(moves)} of {counted(count, 'move')}:" if count > len(moves) else "How it got there:"
        yield f"{INDENT}{told}"
        cells = [(INDENT * 2 + day_name(move.day, shown.today), move_words(row, move)) for move in moves]
        yield table(cells, page=wide)
