"""Find the logbook and read it. (Shore: the player's data folder.)

Rule    the file that the command names; else the one beside the session file with its name and the ending .logbook, if
        the session asks for it or it is there; else the player's own: what the environment names as DRONER_LOGBOOK,
        or in the data folder, by the platform's convention. A folder of sessions keeps each one's beside it, so
        that no two players share one.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

import click

from droner.errors import MachineError

if TYPE_CHECKING:
    from datetime import date

    from droner.practice.history import Past
    from droner.practice.logbook.entry import Entry
    from droner.practice.past import SessionPast
    from droner.practice.session import Session

ENDING = ".logbook"
OWN = "DRONER_LOGBOOK"


def beside(session_file: Path) -> Path:
    """Where the logbook of a session stands that has one of its own."""
    return session_file.with_suffix(ENDING)


def logbook_file(asked: Path | None, session_file: Path | None, *, own: bool = False) -> Path:
    """The logbook that is meant, whether it is there or not; `own`: the session has one of its own, beside it."""
    if asked is not None:
        return asked
    if session_file is not None and (own or is_there(beside(session_file))):
        return beside(session_file)
    return usual_logbook()


def is_there(file: Path) -> bool:
    """Whether a logbook is there. MachineError where the machine will not tell: that is no empty logbook."""
    try:
        file.stat()
    except FileNotFoundError:
        return False
    except (OSError, ValueError) as why:
        raise MachineError(f"{file}: {(getattr(why, 'strerror', None) or str(why)).lower()}") from why
    return True


def keep_apart(goal: Path, *kept: Path | None) -> None:
    """UsageError where a file that is to be written would take the place of one that must stay."""
    for file in kept:
        if file is not None and goal.exists() and file.exists() and goal.samefile(file):
            raise click.UsageError(f"{goal} is {file} itself, which would be lost: choose another name.")


def usual_logbook() -> Path:
    """The player's own logbook."""
    if named := os.environ.get(OWN):
        return Path(named)
    from platformdirs import user_data_path  # noqa: PLC0415 - only where no other logbook is meant

    return user_data_path("droner", appauthor=False) / f"droner{ENDING}"


def entries_of(file: Path) -> tuple[Entry, ...] | None:
    """The entries that hold, in the order of the days; None where there is no logbook yet."""
    if not is_there(file):
        return None
    from droner.practice.logbook.effective import effective  # noqa: PLC0415 - only where there is a logbook

    return effective(all_entries_of(file))


def past_of(file: Path, session: Session, today: date) -> tuple[Past | None, tuple[Entry, ...]]:
    """What a session's plan asks of the days before one, and the day's own entries; None where there is no logbook."""
    if not is_there(file):
        return None, ()
    from droner.practice.logbook.store import open_logbook  # noqa: PLC0415
    from droner.practice.past import past_before  # noqa: PLC0415 - only where there is a logbook

    with open_logbook(file, create=False) as logbook:
        return logbook.asked(lambda ask: past_before(ask, session, today))


def past_with(file: Path, session: Session, today: date) -> SessionPast | None:
    """What the session's ladders ask of the days up to one and with it; None where there is no logbook."""
    if not is_there(file):
        return None
    from droner.practice.logbook.store import open_logbook  # noqa: PLC0415
    from droner.practice.past import past_until  # noqa: PLC0415 - as above

    with open_logbook(file, create=False) as logbook:
        return logbook.asked(lambda ask: past_until(ask, session, today))


def all_entries_of(file: Path) -> tuple[Entry, ...]:
    """Every entry ever made, corrected ones too; none where there is no logbook yet."""
    if not is_there(file):
        return ()
    from droner.practice.logbook.store import open_logbook  # noqa: PLC0415 - only where there is a logbook

    with open_logbook(file, create=False) as logbook:
        return logbook.entries()


def make_folder(folder: Path) -> None:
    """Make the folder that a logbook is to stand in. MachineError where the machine does not let us."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as why:
        raise MachineError(f"{folder} cannot be made: {(why.strerror or str(why)).lower()}") from why
