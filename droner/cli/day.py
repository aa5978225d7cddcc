"""Open a session with its patterns, lay the command's options over it, and plan the day.

Rule    SESSION is the file named, else practice.toml in this folder, else droner's own session. A folder
        `patterns` beside the session file is read too.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

import click

from droner.practice.files import load_patterns, load_session
from droner.practice.plan import Planner

if TYPE_CHECKING:
    from datetime import date

    from droner.practice.pattern import Patterns
    from droner.practice.plan import Plan
    from droner.practice.session import Session

USUAL_SESSION = Path("practice.toml")


@dataclass(frozen=True, slots=True)
class Day:
    """One day of one session."""

    session: Session
    patterns: Patterns
    planner: Planner
    plan: Plan


def open_session(path: Path | None) -> tuple[Session, Patterns]:
    """The session asked for, and the patterns it may use."""
    found = path or (USUAL_SESSION if USUAL_SESSION.exists() else None)
    patterns = load_patterns(found.parent / "patterns" if found else None)
    return load_session(found, patterns), patterns


def tuned(session: Session, a4_hz: float | None, temperament: str | None) -> Session:
    """The session with the tuning options laid over it."""
    order = session.tuning
    if a4_hz is not None:
        order = replace(order, a4_hz=a4_hz)
    if temperament is not None:
        order = replace(order, temperament=temperament_name(temperament), anchor="")
    return replace(session, tuning=order)


def temperament_name(asked: str) -> str:
    """The temperament's full name. UsageError, with the nearest, for one that does not exist."""
    from droner.theory.temperament import temperament  # noqa: PLC0415 - only when the option is given

    try:
        return temperament(asked).name
    except ValueError as unknown:
        raise click.UsageError(str(unknown)) from None


def open_day(
    path: Path | None,
    *,
    day: date,
    place: int | None = None,
    minutes: float | None = None,
    seed: int | None = None,
    a4_hz: float | None = None,
    temperament: str | None = None,
) -> Day:
    """The day's plan of a session, with the command's options laid over it."""
    session, patterns = open_session(path)
    session = tuned(session, a4_hz, temperament)
    if minutes is not None:
        session = replace(session, minutes=Fraction(minutes))
    if seed is not None:
        session = replace(session, seed=seed)
    planner = Planner(session, patterns)
    return Day(session, patterns, planner, planner.day(day, place))
