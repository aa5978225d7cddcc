"""Do what `droner log` was asked for: write entries down, correct one, show, export or import.

Rule    one thing at a time. All that is told in one command is kept together or not at all.
"""

from __future__ import annotations

from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from secrets import token_hex
from typing import TYPE_CHECKING

import click

from droner.cli.day import open_day
from droner.cli.log_page import NAME_SHOWN, entry_data, page
from droner.cli.log_remarks import far_off, named_twice
from droner.cli.log_tempos import played_in, played_with, slowing_in
from droner.cli.log_wanted import check_words
from droner.cli.log_words import runs
from droner.cli.logbook import all_entries_of, entries_of, is_there, keep_apart, make_folder
from droner.cli.logging_day import NAME_BYTES, Told, entry_of
from droner.cli.options import today
from droner.cli.screen import page_width, show, show_json, tell
from droner.cli.table import counted
from droner.cli.values import items
from droner.errors import Mistake, MistakesFound
from droner.practice.logbook.effective import effective
from droner.practice.logbook.entry import BY_EAR
from droner.practice.logbook.store import open_logbook
from droner.practice.played_tempo import on_the_ladder

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from droner.cli.day import Day
    from droner.cli.log_wanted import Wanted
    from droner.practice.logbook.entry import Entry
    from droner.practice.logbook.store import Logbook

WORKS = ("correct", "take_back", "last", "export_to", "import_from")
SHORTEST_BEGINNING = 4


def work(wanted: Wanted) -> None:
    """Do it."""
    asked = [name for name in WORKS if getattr(wanted, name) is not None]
    if len(asked) > 1:
        named = " and ".join(f"--{name.removesuffix('_to').removesuffix('_from').replace('_', '-')}" for name in asked)
        raise click.UsageError(f"{named} are several things: ask for one at a time.")
    if asked and wanted.words and wanted.correct is None and not wanted.is_session_alone:
        raise click.UsageError("Items are written down by themselves: leave the other option for a command of its own.")
    match asked:
        case ["last"]:
            _show(wanted, sorted(_kept(wanted), key=lambda entry: (entry.written, entry.name))[-(wanted.last or 0) :])
        case ["export_to"]:
            _export(wanted)
        case ["import_from"]:
            _import(wanted)
        case ["correct"] | ["take_back"]:
            _correct(wanted)
        case _ if wanted.told:
            check_words(wanted.words)
            _write_down(wanted)
        case _:
            check_words(wanted.words)
            _talk(wanted)


def _open_day(wanted: Wanted) -> Day:
    if wanted.day is not None and wanted.day > today() + timedelta(days=1):
        raise click.UsageError(f"{wanted.day.isoformat()} has not come yet: nothing was played on it.")
    return open_day(
        wanted.session, day=wanted.day, place=wanted.place, minutes=wanted.minutes, seed=wanted.seed,
        logbook=wanted.logbook, quiet=wanted.quiet,
    )  # fmt: skip


def _write_down(wanted: Wanted) -> None:
    day = _open_day(wanted)
    entries = list(_entries(wanted, day))
    with _logbook_to_write(day.logbook) as logbook:
        logbook.append(entries)
    numbers = [number for named, _ in wanted.told for number in items(named)]
    planned = [one for one in day.plan.items if one.number in numbers]
    for remark in (*named_twice(numbers), *far_off(planned, wanted.bpm)):
        tell(remark, quiet=wanted.quiet)
    _show(wanted, entries, day)


def _entries(wanted: Wanted, day: Day) -> Iterator[Entry]:
    """The entries that are told. UsageError for an item that is not in the plan, and for what cannot be."""
    planned = {one.number: one for one in day.plan.items}
    for numbers, told in wanted.told:
        for number in items(numbers):
            if number not in planned:
                raise click.UsageError(f"The plan has items 1 to {len(planned)}; there is no item {number}.")
            with _only_what_can_be():
                yield entry_of(planned[number], day, _told(wanted, told))


def _told(wanted: Wanted, text: str) -> Told:
    clean, total = runs(text)
    return Told(clean, total, wanted.bpm, wanted.spent, wanted.note, wanted.judged or BY_EAR)


@contextmanager
def _only_what_can_be() -> Iterator[None]:
    """UsageError for what the player told that cannot be."""
    try:
        yield
    except ValueError as wrong:
        raise click.UsageError(f"{wrong}.") from None


def _talk(wanted: Wanted) -> None:
    from droner.cli.log_talk import talk  # noqa: PLC0415 - most of it is told in one line

    day = _open_day(wanted)
    with _logbook_to_write(day.logbook) as logbook:
        made = talk(day, lambda entry: logbook.append([entry]))
    _show(wanted, made, day)


def _correct(wanted: Wanted) -> None:
    """A new entry that stands for an old one."""
    old = _found(wanted, wanted.correct or wanted.take_back or "")
    new = replace(old, name=token_hex(NAME_BYTES), written=datetime.now(UTC), corrects=old.name)
    if wanted.take_back is not None:
        new = replace(new, clean=0, total=0, seconds=None, note=wanted.note)
    else:
        new = _corrected(wanted, new)
    with _logbook_to_write(wanted.file) as logbook:
        logbook.append([new])
    _show(wanted, [new])


def _corrected(wanted: Wanted, new: Entry) -> Entry:
    """The entry with what the player tells now; what is not told stays."""
    if len(wanted.words) > 1:
        raise click.UsageError("Correct one entry at a time: --correct NAME CLEAN/TOTAL.")
    if not (wanted.words or wanted.bpm or wanted.day or wanted.note or wanted.judged or wanted.spent is not None):
        raise click.UsageError("Say what it should be: --correct NAME CLEAN/TOTAL, --tempo, --date, --spent or --note.")
    with _only_what_can_be():
        clean, total = runs(wanted.words[0]) if wanted.words else (new.clean, new.total)
        return replace(
            new,
            clean=clean,
            total=total,
            bpm=_corrected_bpm(wanted, new),
            day=wanted.day or new.day,
            seconds=_corrected_seconds(wanted, new, total),
            judged=wanted.judged or new.judged,
            note=wanted.note or new.note,
        )


def _corrected_bpm(wanted: Wanted, old: Entry) -> Fraction:
    """The tempo on the ladder, where it was played as told; as told itself where the rhythm is not known here."""
    slows = slowing_in(old, None) if wanted.bpm is not None else None
    if wanted.bpm is None or slows is None:
        return wanted.bpm or old.bpm
    return on_the_ladder(wanted.bpm, old.bpm, slows)


def _corrected_seconds(wanted: Wanted, old: Entry, total: int) -> Fraction | None:
    """How long it took: as told, else as long as so many runs took before."""
    if wanted.spent is not None:
        return wanted.spent * 60
    return None if old.seconds is None else Fraction(round(old.seconds * total / old.total * 1000), 1000)


def _found(wanted: Wanted, beginning: str) -> Entry:
    """The one entry that holds whose name begins so."""
    every = {entry.name: entry for entry in all_entries_of(wanted.file)}
    named = [entry for name, entry in every.items() if name.startswith(beginning.lower())]
    if len(beginning) < SHORTEST_BEGINNING or not named:
        raise click.UsageError(
            f"No entry has a name that begins with {beginning!r}: droner log --last 10 shows them; "
            f"{SHORTEST_BEGINNING} signs at least."
        )
    if len(named) > 1:
        raise click.UsageError(f"{counted(len(named), 'entry', 'entries')} begin with {beginning!r}: write more of it.")
    holds = {entry.name for entry in effective(every.values())}
    later = [entry.name for entry in every.values() if entry.corrects == named[0].name]
    if named[0].name not in holds and not later:
        raise click.UsageError(f"{beginning} was taken back: there is nothing to correct.")
    if named[0].name not in holds:
        raise click.UsageError(f"{beginning} was corrected before: {later[-1][:NAME_SHOWN]} stands for it now.")
    return named[0]


def _kept(wanted: Wanted) -> tuple[Entry, ...]:
    """The entries that hold; none where there is no logbook."""
    return entries_of(wanted.file) or ()


def _export(wanted: Wanted) -> None:
    from droner.cli.log_files import ending_of, write_entries  # noqa: PLC0415 - only for this

    assert wanted.export_to is not None  # noqa: S101 - asked for
    ending_of(wanted.export_to)
    if not is_there(wanted.file):
        raise MistakesFound([Mistake(str(wanted.file), 0, "", "there is no such logbook")])
    keep_apart(wanted.export_to, wanted.file)
    count = write_entries(wanted.export_to, all_entries_of(wanted.file))
    tell(counted(count, "entry", "entries"), quiet=wanted.quiet)
    show(str(wanted.export_to))


def _import(wanted: Wanted) -> None:
    from droner.cli.log_files import read_entries  # noqa: PLC0415 - only for this

    assert wanted.import_from is not None  # noqa: S101 - asked for
    found, passed_over = read_entries(wanted.import_from)
    with _logbook_to_write(wanted.file) as logbook:
        new = logbook.append(found)
    news = "all new" if new == len(found) else f"{new or 'none'} new, {len(found) - new} known already"
    told = f": {news}; {wanted.file} has them" if found else ""
    if passed_over:
        tell(f'The column "{passed_over}" follows from the others and is not read.', quiet=wanted.quiet)
    tell(f"{counted(len(found), 'entry', 'entries')} read{told}", quiet=wanted.quiet)


@contextmanager
def _logbook_to_write(file: Path) -> Iterator[Logbook]:
    """The logbook, made where there is none."""
    make_folder(file.parent)
    with open_logbook(file, create=True) as logbook:
        yield logbook


def _show(wanted: Wanted, entries: Sequence[Entry], day: Day | None = None) -> None:
    def played(entry: Entry) -> Fraction | None:
        return played_in(entry, wanted.session) if day is None else played_with(entry, day.session, day.patterns)

    if wanted.as_json:
        show_json([entry_data(entry, played(entry)) for entry in entries])
    elif entries:
        show(page(entries, played, page_width()))
    else:
        tell("Nothing is written down.", quiet=wanted.quiet)
