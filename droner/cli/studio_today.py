"""Show the plans of many sessions: each as its own page or data, and what they come to."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

import click

from droner.cli.day import open_day
from droner.cli.plan_data import plan_data
from droner.cli.screen import page_width, show, show_json
from droner.cli.studio import has_own, in_their_turn, names_of, of_each, sessions_of, tell_of_shared, without_logbook
from droner.cli.table import counted, minutes_seconds, table
from droner.cli.today_page import page

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

HEADS = ("session", "instrument", "items", "time", "keys", "last played")
RIGHT = frozenset({2, 3})
SHOWN = 3
"""Keys of a session in the sum."""


@dataclass(frozen=True, slots=True)
class Told:
    """One session's plan: its page, its data, and its row of the sum."""

    page: str
    data: dict[str, Any]
    row: tuple[str, ...]
    seconds: float
    shares: bool
    """Whether `droner log` would write it down in the player's own logbook."""


def show_days(asked: Sequence[Path], *, item: int | None, as_json: bool, **options: Any) -> None:
    """Show the day of every session. UsageError for what one session alone can be asked."""
    if item is not None:
        raise click.UsageError("--ledger shows an item of one session: name that one.")
    options = without_logbook(options)
    files = sessions_of(asked)
    names = names_of(files)
    worked = of_each(partial(_told, wide=page_width(), names=names, options=options), files)
    told = list(worked.found.values())
    tell_of_shared([one.row[0] for one in told if one.shares], quiet=bool(options["quiet"]))
    if as_json:
        show_json([one.data for one in told])
    elif told:
        for one in told:
            show(f"{one.page}\n\n")
        rows = in_their_turn({file: (one.row,) for file, one in worked.found.items()}, worked, names)
        show(table(rows, HEADS, RIGHT, page=page_width()))
        show(f"{counted(len(told), 'session')}, {minutes_seconds(sum(one.seconds for one in told))} in all")
    worked.end(names)


def _told(file: Path, *, wide: int, names: dict[Path, str], options: dict[str, Any]) -> Told:
    day = open_day(file, own_logbook=True, **options)
    plan, last = day.plan, day.planner.history.last_day
    keys = dict.fromkeys(str(one.item.key) for one in plan.items if one.item.key)
    row = (
        names[file],
        day.session.instrument.name,
        str(len(plan.items)),
        minutes_seconds(float(plan.seconds)),
        _few(list(keys)),
        last.isoformat() if last else "never",
    )
    return Told(page(day, wide), plan_data(day), row, float(plan.seconds), not has_own(day.session, file))


def _few(keys: list[str]) -> str:
    """The keys of a day, the first few of many."""
    return ", ".join(keys) if len(keys) <= SHOWN else f"{', '.join(keys[:SHOWN])}, and {len(keys) - SHOWN} more"
