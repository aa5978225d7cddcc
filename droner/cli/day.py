"""Open a session with its patterns, lay the command's options over it, and plan the day.

Rule    SESSION is the file named, else practice.toml in this folder, else droner's own session. A folder
        `patterns` beside the session file is read too.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from os.path import lexists
from pathlib import Path
from typing import TYPE_CHECKING

import click

from droner.cli.logbook import entries_of, logbook_file, past_of
from droner.cli.names import temperament_name
from droner.cli.options import USUAL_SESSION, today
from droner.cli.reading import read_both
from droner.cli.screen import tell
from droner.practice.history import History
from droner.practice.plan import Planner

if TYPE_CHECKING:
    from collections.abc import Sequence
    from fractions import Fraction

    from droner.practice.history import Past
    from droner.practice.logbook.entry import Entry
    from droner.practice.pattern import Patterns
    from droner.practice.plan import Plan
    from droner.practice.session import Session

BUILT_IN_REMARK = f"There is no {USUAL_SESSION} here: this is the built-in session. droner new writes one of your own."


@dataclass(frozen=True, slots=True)
class Day:
    """One day of one session."""

    session: Session
    patterns: Patterns
    planner: Planner
    plan: Plan
    logbook: Path
    logged: tuple[Entry, ...] = ()
    """What was written down of the day itself."""
    entries: tuple[Entry, ...] = ()
    """What was written down before it and holds, where the whole past was asked for."""


def session_file(asked: Path | None) -> Path | None:
    """The session file that is meant; None for droner's own session."""
    usual = Path(USUAL_SESSION)
    return asked or (usual if lexists(usual) else None)


def open_day(
    asked: Path | None,
    *,
    day: date | None = None,
    place: int | None = None,
    minutes: Fraction | None = None,
    seed: int | None = None,
    a4_hz: Fraction | None = None,
    temperament: str | None = None,
    logbook: Path | None = None,
    own_logbook: bool = False,
    whole_past: bool = False,
    quiet: bool = False,
) -> Day:
    """The day's plan of a session, with the command's options laid over it.

    A plan reads what was written down before its day, so that it stays the same while the day is written down.
    `own_logbook`: none but the one beside the session. `whole_past`: every entry is read, see `Day.entries`.
    """
    name = temperament_name(temperament) if temperament else None
    file = session_file(asked)
    session, patterns = read_both(file)
    if file is None:
        tell(BUILT_IN_REMARK, quiet=quiet)
    session = _tuned(session, a4_hz, name)
    if minutes is not None:
        session = replace(session, minutes=minutes)
    if seed is not None:
        session = replace(session, seed=seed)
    kept_in, on = logbook_file(logbook, file, own=own_logbook or session.own_logbook), day or today()
    entries: tuple[Entry, ...] = ()
    if whole_past:
        kept = entries_of(kept_in)
        entries = tuple(entry for entry in kept or () if entry.day < on)
        past: Past | None = None if kept is None else History(entries)
        logged = tuple(entry for entry in kept or () if entry.day == on)
    else:
        past, logged = past_of(kept_in, session, on)
    planner = Planner(session, patterns, past)
    return Day(session, patterns, planner, planner.day(on, place), kept_in, logged, entries)


def check_items(day: Day, asked: Sequence[int] = ()) -> None:
    """UsageError when there is nothing to play, or an item is asked for that is not in the plan."""
    count = len(day.plan.items)
    if not count:
        left = "".join(f" {gone.drill}: {gone.why}." for gone in day.plan.left_out)
        raise click.UsageError(f"There is nothing to play on this day.{left}")
    for number in asked:
        if not 1 <= number <= count:
            raise click.UsageError(f"The plan has items 1 to {count}; there is no item {number}.")


def _tuned(session: Session, a4_hz: Fraction | None, temperament: str | None) -> Session:
    """The session with the tuning options laid over it."""
    order = session.tuning
    if a4_hz is not None:
        order = replace(order, a4_hz=float(a4_hz))
    if temperament is not None:
        order = replace(order, temperament=temperament, anchor="")
    return replace(session, tuning=order)


def logbook_of(asked: Path | None, session: Path | None) -> Path:
    """The logbook that is meant: the one asked for, else the session's."""
    if asked is not None:
        return asked
    file = session_file(session)
    return logbook_file(None, file, own=file is not None and read_both(file)[0].own_logbook)
