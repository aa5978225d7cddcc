"""Take many sessions at once: a teacher's studio.

Rule    a folder stands for every session file in it, by name. Each session is worked on in a process of its own, as
        many at a time as there are cores, and comes out in its turn. One with mistakes keeps nobody else waiting:
        nothing is done for it, it stands in the sum as left out, and all mistakes are told together at the end. Each
        keeps the logbook beside it, whatever its session says: players never share one.
"""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import count
from pathlib import Path
from threading import Thread
from time import sleep
from typing import TYPE_CHECKING, Any, Generic, TypeVar

import click

from droner.cli.cores import cores, process_context
from droner.cli.endings import MistakesToTell
from droner.cli.logbook import beside, is_there
from droner.cli.screen import tell
from droner.cli.table import counted
from droner.errors import MachineError, Mistake, MistakesFound

if TYPE_CHECKING:
    from droner.practice.session import Session

Found = TypeVar("Found")
ENDING = ".toml"
LOOK_S = 0.5


@dataclass(frozen=True, slots=True)
class Came(Generic[Found]):
    """What came of one session: what was asked for, or mistakes, or what the machine would not give."""

    found: Found | None = None
    mistakes: tuple[Mistake, ...] = ()
    refused: str = ""


@dataclass(frozen=True, slots=True)
class Worked(Generic[Found]):
    """What came of all sessions: what was asked for of the good ones, and what is wrong with the others."""

    found: dict[Path, Found]
    mistakes: tuple[Mistake, ...]
    refused: tuple[str, ...]
    left_out: dict[Path, str]
    """Why a session was left out, in a few words."""

    def end(self, names: dict[Path, str]) -> None:
        """Tell what is wrong, once the good ones are done. MistakesFound, else MachineError."""
        if self.mistakes:
            raise MistakesToTell(self.mistakes, f"left out: {', '.join(names[file] for file in self.left_out)}")
        if self.refused:
            raise MachineError("\n".join(self.refused))


def sessions_of(asked: Sequence[Path]) -> list[Path]:
    """Every session file that is meant, once each. UsageError for a folder that holds none."""
    files: dict[Path, Path] = {}
    for path in asked:
        for file in _in_folder(path) if path.is_dir() else [path]:
            files.setdefault(Path(os.path.realpath(file)), file)
    return list(files.values())


def without_logbook(options: dict[str, Any]) -> dict[str, Any]:
    """The options of each session. UsageError where one logbook is asked for, since each has its own."""
    if options.get("logbook") is not None:
        raise click.UsageError("--logbook names the logbook of one session; in a studio each has its own beside it.")
    return {**options, "logbook": None}


def is_studio(asked: Sequence[Path]) -> bool:
    """Whether several sessions are meant: more than one file, or a folder."""
    return len(asked) > 1 or any(path.is_dir() for path in asked)


def of_each(work: Callable[[Path], Found], files: Sequence[Path]) -> Worked[Found]:
    """What the work gives for each session, in order."""
    workers = min(cores(), len(files))
    if workers > 1:
        from concurrent.futures import ProcessPoolExecutor  # noqa: PLC0415 - one session alone needs no processes

        context = process_context()
        with ProcessPoolExecutor(workers, mp_context=context, initializer=_begin, initargs=(os.getpid(),)) as pool:
            came = list(pool.map(partial(_came, work), files))
    else:
        came = [_came(work, file) for file in files]
    return Worked(
        {file: one.found for file, one in zip(files, came, strict=True) if one.found is not None},
        tuple(dict.fromkeys(mistake for one in came for mistake in one.mistakes)),
        tuple(one.refused for one in came if one.refused),
        {file: f"{why}, left out" for file, one in zip(files, came, strict=True) if (why := _why(one))},
    )


def _why(came: Came[Found]) -> str:
    """Why nothing came of a session; "" where something did."""
    return counted(len(came.mistakes), "mistake") if came.mistakes else "refused by the machine" if came.refused else ""


def in_their_turn(
    rows: dict[Path, tuple[tuple[str, ...], ...]], worked: Worked[Found], names: dict[Path, str]
) -> list[tuple[str, ...]]:
    """The rows of a sum, in the order of the sessions, with those that were left out."""
    wide = max(len(row) for each in rows.values() for row in each)
    left = {file: ((names[file], why, *[""] * (wide - 2)),) for file, why in worked.left_out.items()}
    return [row for file in names for row in (rows | left).get(file, ())]


def names_of(files: Sequence[Path]) -> dict[Path, str]:
    """A name for each session that no other has: its file's, with its folder's, or a number, where two are alike."""
    stems = [file.stem for file in files]
    names: dict[Path, str] = {}
    for file in files:
        name = file.stem if stems.count(file.stem) == 1 else f"{file.resolve().parent.name} {file.stem}"
        taken = set(names.values())
        names[file] = next(
            each for number in count(1) if (each := name if number == 1 else f"{name} {number}") not in taken
        )
    return names


def has_own(session: Session, file: Path) -> bool:
    """Whether `droner log` finds the logbook beside a session too."""
    return session.own_logbook or is_there(beside(file))


def tell_of_shared(names: Sequence[str], *, quiet: bool) -> None:
    """Say which sessions would be written down elsewhere than they are read here."""
    if names:
        key = 'logbook = "beside the session"'
        tell(f"{', '.join(names)}: write {key}, so that droner log keeps each player's own.", quiet=quiet)


def _in_folder(folder: Path) -> list[Path]:
    found = sorted(path for path in folder.iterdir() if path.suffix == ENDING and path.is_file())
    if not found:
        raise click.UsageError(f"{folder} holds no session file: NAME{ENDING}.")
    return found


def _came(work: Callable[[Path], Found], file: Path) -> Came[Found]:
    try:
        return Came(work(file))
    except MistakesFound as found:
        return Came(mistakes=found.mistakes)
    except MachineError as refused:
        return Came(refused=str(refused))


def _begin(parent: int) -> None:
    """A worker: the parent alone obeys Ctrl-C, and none goes on without it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    os.environ.setdefault("OMP_NUM_THREADS", "1")
    Thread(target=_end_with, args=(parent,), name="droner parent", daemon=True).start()


def _end_with(parent: int) -> None:
    """End as soon as the parent was killed: nobody would take what is worked out."""
    while os.getppid() == parent:
        sleep(LOOK_S)
    os._exit(1)
