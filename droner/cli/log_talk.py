"""Write the day down in talk: item by item, prefilled from the plan.

Rule    each answer is kept before the next is asked for, so that whenever the talk ends, what was told is told. Enter
        leaves an item out; what is written down already is shown and not asked for again.
"""

from __future__ import annotations

import sys
from contextlib import suppress
from enum import Enum
from typing import TYPE_CHECKING

from droner.cli.log_remarks import far_off
from droner.cli.log_words import HOW, told
from droner.cli.logging_day import entry_of, logged, logged_words
from droner.cli.screen import tell
from droner.practice.logbook.entry import Entry
from droner.score.words import shown_bpm

if TYPE_CHECKING:
    from collections.abc import Callable

    from droner.cli.day import Day
    from droner.practice.plan import PlannedItem

ENDS = frozenset({"end", "q"})
HELP = "?"


class Left(Enum):
    """What the player says instead of how an item went."""

    OUT = "left out"
    ALL = "the talk is over"


INVITATION = (
    f"How did it go? {HOW[0].upper()}{HOW[1:]}.\n"
    '"=" stands for all runs of the plan, and all clean; Enter leaves the item out; "end" or "q" ends; "?" says more.'
)
ANSWERS = """\
  4/5                    4 of 5 runs clean
  4/5 at 88              at 88 instead of the plan's tempo, as played
  4/5 at 88, tongue late with a note
  =                      as many runs as planned, all clean; also "= at 66" and "=, easy"
  Enter                  not played, or not to be written down
  end, or q              no more today; what was told is kept"""


def talk(day: Day, keep: Callable[[Entry], object]) -> list[Entry]:
    """Ask for every item of the day; `keep` keeps an entry for ever. The entries that were made."""
    tell(INVITATION)
    made: list[Entry] = []
    for planned in day.plan.items:
        known = logged(planned, day)
        if known:
            tell(f"{_shown(planned)}: {logged_words(known)}, written down already")
            continue
        entry = _ask(planned, day)
        if entry is Left.ALL:
            break
        if isinstance(entry, Entry):
            keep(entry)
            made.append(entry)
    return made


def _ask(planned: PlannedItem, day: Day) -> Entry | Left:
    """The entry of an item, or what is left."""
    while True:
        answer = _answer(f"{_shown(planned)}: ")
        if answer is None or answer in ENDS:
            return Left.ALL
        if answer == HELP:
            tell(ANSWERS)
            continue
        if not answer:
            return Left.OUT
        try:
            said = told(answer, planned.item.judged_runs)
            entry = entry_of(planned, day, said)
        except ValueError as wrong:
            tell(f"{wrong}")
            continue
        for remark in far_off([planned], said.bpm):
            tell(remark)
        return entry


def _answer(question: str) -> str | None:
    """A line of the player's; None at the end of what they say. The question stands beside the data."""
    if sys.stderr is not None:
        with suppress(OSError):
            sys.stderr.write(question)
            sys.stderr.flush()
    line = sys.stdin.readline() if sys.stdin is not None else ""
    if not line:
        tell("")
        return None
    return line.strip()


def _shown(planned: PlannedItem) -> str:
    item = planned.item
    key = f", {item.key}" if item.key else ""
    step = f", {item.rung.step}" if item.rung.step else ""
    return f"{planned.number:2} {item.drill.name}{key}, {shown_bpm(item.bpm)}{step}"
