"""Show the ladders of many sessions: each as its own page or data, and one table of all."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

import click

from droner.cli.ladder_data import ladders_data
from droner.cli.ladder_page import page
from droner.cli.ladder_rows import seen
from droner.cli.logbook import logbook_file
from droner.cli.reading import read_both
from droner.cli.screen import page_width, show, show_json
from droner.cli.studio import has_own, in_their_turn, names_of, of_each, sessions_of, tell_of_shared
from droner.cli.table import table
from droner.practice.ladder.day_words import day_name

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date
    from pathlib import Path

    from droner.cli.ladder_rows import Row, Seen

HEADS = ("session", "drill", "to", "now", "rung", "last played", "")
RIGHT = frozenset({2, 3, 4})


@dataclass(frozen=True, slots=True)
class Told:
    """One session's ladders: the page, the data, and its rows of the table of all."""

    page: str
    data: dict[str, Any]
    rows: tuple[tuple[str, ...], ...]
    shares: bool


def show_ladders(sessions: Sequence[Path], today: date, chart: Path | None, *, as_json: bool, quiet: bool) -> None:
    """Show the ladders of every session. UsageError for what one session alone can be asked."""
    if chart is not None:
        raise click.UsageError("--chart draws the ladders of one session: name that one.")
    files = sessions_of(sessions)
    names = names_of(files)
    worked = of_each(partial(_told, names=names, today=today, wide=page_width()), files)
    tell_of_shared([names[file] for file, one in worked.found.items() if one.shares], quiet=quiet)
    told = list(worked.found.values())
    if as_json:
        show_json([one.data for one in told])
    elif told:
        for one in told:
            show(f"{one.page}\n\n")
        rows = in_their_turn({file: one.rows for file, one in worked.found.items()}, worked, names)
        show(table(rows, HEADS, RIGHT, page=page_width()))
    worked.end(names)


def _told(file: Path, *, names: dict[Path, str], today: date, wide: int) -> Told:
    session, patterns = read_both(file)
    shown = seen(session, patterns, logbook_file(None, file, own=True), today)
    rows = tuple(_row(names[file], row, shown) for row in shown.rows)
    return Told(page(shown, wide), ladders_data(shown), rows, not has_own(session, file))


def _row(name: str, row: Row, shown: Seen) -> tuple[str, ...]:
    last = row.climb.state.day
    return (
        name,
        row.label,
        f"{float(row.order.to_bpm):g}",
        row.stands.rung.label,
        f"{row.stands.place + 1} of {row.stands.of}",
        day_name(last, shown.today) if last else "never",
        "plateau" if row.stands.plateau else "target reached" if row.stands.reached else "",
    )
