"""Write the certificate of a cycle to a file, and recheck one. (Shore: the player's disk.)

Rule    a file is rechecked from itself alone. Then, where the logbook is named, it must still have every entry of the
        file; where one is only found, it is asked only if it knows any of them: it may be another player's.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from droner.cli.day import logbook_of, session_file
from droner.cli.endings import MistakesToTell
from droner.cli.logbook import all_entries_of, is_there, keep_apart
from droner.cli.table import wrapped
from droner.errors import MachineError, Mistake, MistakesFound
from droner.practice.certificate import certificate_of, in_words, text_of
from droner.practice.certificate_mistakes import ManyMistakesFound
from droner.practice.coverage import PLAIN
from droner.practice.reading.files import file_bytes
from droner.practice.recheck import hold_against, recheck
from droner.whole_file import whole_file

if TYPE_CHECKING:
    from droner.cli.day import Day
    from droner.cli.rotation_played import Played
    from droner.practice.certificate import Certificate

LARGEST = 100_000_000
"""Bytes: out of reach of any rotation that is played in a life."""


def write_certificate(path: Path, day: Day, played: Played) -> dict[str, Any]:
    """Write what is played of the cycle; give it as data."""
    words = {variant.number: variant.words for variant in day.planner.variants if variant}
    certificate = certificate_of(played.coverage, day.plan.day, words | {PLAIN: "plain"})
    if not path.parent.is_dir():
        raise MachineError(f"cannot write {path}: there is no folder {path.parent}")
    keep_apart(path, day.logbook, session_file(Path(day.session.file)) if day.session.file else None)
    with whole_file(path) as file:
        file.write(text_of(certificate).encode("ascii"))
    return {"path": str(path), "form": "certificate", "title": in_words(certificate)}


@dataclass(frozen=True, slots=True)
class Rechecked:
    """A certificate that agrees with itself. `logbook`: the one that still has its entries, None if none was asked."""

    file: Path
    certificate: Certificate
    logbook: Path | None

    @property
    def entries(self) -> int:
        """How many entries it names."""
        return sum(map(len, self.certificate.plays.values()))


def rechecked(file: Path, session: Path | None, logbook: Path | None) -> Rechecked:
    """Recheck a file. MistakesToTell with what does not agree: nothing was to be written."""
    try:
        return _rechecked(file, session, logbook)
    except MistakesFound as found:
        count = found.count if isinstance(found, ManyMistakesFound) else None
        raise MistakesToTell(found.mistakes, count=count) from None


def _rechecked(file: Path, session: Path | None, logbook: Path | None) -> Rechecked:
    certificate = recheck(_bytes(file), str(file))
    if logbook is not None and not is_there(logbook):
        raise MistakesFound([Mistake(str(logbook), 0, "", "there is no such logbook")])
    kept_in = logbook_of(logbook, session)
    entries = all_entries_of(kept_in)
    named = {play.entry for plays in certificate.plays.values() for play in plays}
    if not named or (logbook is None and not any(entry.name in named for entry in entries)):
        return Rechecked(file, certificate, None)
    hold_against(certificate, entries, str(file), str(kept_in))
    return Rechecked(file, certificate, kept_in)


def _bytes(file: Path) -> bytes:
    data = file_bytes(file, LARGEST)
    if len(data) > LARGEST:
        raise MistakesFound([Mistake(str(file), 0, "", "this file is too large to be a certificate")])
    return data


def recheck_page(told: Rechecked, wide: int) -> str:
    """What the recheck found, in words."""
    one = told.certificate
    parts = (
        f"{told.file} agrees with itself: {in_words(one)}",
        f"{one.session}, {one.instrument}, as of {one.day.isoformat()}.",
        _held(told),
    )
    return "\n".join(wrapped(part, wide) for part in parts)


def _held(told: Rechecked) -> str:
    """Whether the logbook still has its entries."""
    if told.logbook:
        entries = "the one entry" if told.entries == 1 else f"each of the {told.entries} entries"
        return f"{told.logbook} still has {entries} that it names."
    if told.entries:
        return "No logbook was at hand that knows its entries: name one with --logbook."
    return "It names no entry of a logbook."


def recheck_data(told: Rechecked) -> dict[str, Any]:
    """The same as data."""
    one = told.certificate
    return {
        "path": str(told.file),
        "agrees": True,
        "session": one.session,
        "instrument": one.instrument,
        "date": one.day.isoformat(),
        "cycle": one.cycle + 1,
        "turns": one.walk.cycle,
        "played": one.played,
        "played_by_all": one.played_by_all,
        "not_played": one.walk.cycle - one.played,
        "entries": told.entries,
        "logbook": str(told.logbook) if told.logbook else None,
    }
