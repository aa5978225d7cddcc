"""What a plan reads of the logbook is what all the entries that hold would have told it.

Referee  `History` over `effective`, which looks at every entry whole, and has tests of its own. Logs are made up by
         hypothesis: few days, drills and names, so that corrections of corrections, across days and instruments, of
         what is not there and in circles come up all the time.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime, timedelta
from fractions import Fraction
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from droner.practice.history import LOOKED_BACK_DAYS, History
from droner.practice.logbook.effective import effective
from droner.practice.logbook.entry import Entry
from droner.practice.logbook.store import open_logbook
from droner.practice.past import SessionPast, past_before, past_until
from droner.practice.session import Session
from tests.practice.days import session_of

TITLE = "Practice"
FIRST = date(2026, 1, 5)
LAST = FIRST + timedelta(LOOKED_BACK_DAYS + 12)
"""Some days lie farther back than a plan looks at one by one, some after the day that is planned."""
DAYS = [FIRST + timedelta(days) for days in range(3)] + [LAST - timedelta(days) for days in range(6)]
TODAYS = (LAST - timedelta(3), LAST, FIRST + timedelta(1))
DRILLS = ("turning scale", "thirds", "slow chromatic")
CLIMBS = """drill = "{drill}"
ladder = {{ from = 60, to = 126, each = "{each}" }}"""
NAMES = [f"{number:032x}" for number in range(12)]


@st.composite
def logged(draw: st.DrawFn) -> Entry:
    """One entry of few possible ones."""
    corrects = draw(st.sampled_from(["", "", "", *NAMES]))
    total = draw(st.integers(0 if corrects else 1, 3))
    return Entry(
        name=draw(st.sampled_from(NAMES)),
        written=datetime(2026, 1, 5, 8, draw(st.integers(0, 5)), tzinfo=UTC),
        day=draw(
            st.sampled_from(
                [FIRST + timedelta(days) for days in (0, 1, 2)] + [LAST - timedelta(days) for days in range(6)]
            )
        ),
        session=draw(st.sampled_from([TITLE, TITLE, "Another"])),
        instrument=draw(st.sampled_from(["flute", "flute", "alto flute"])),
        drill=draw(st.sampled_from(DRILLS)),
        key=draw(st.sampled_from(["C major", "A minor", ""])),
        variant=draw(st.integers(0, 3)),
        place=draw(st.none() | st.integers(0, 4)),
        bpm=Fraction(draw(st.sampled_from([60, 63, 66]))),
        step="",
        clean=draw(st.integers(0, total)),
        total=total,
        seconds=draw(st.none() | st.integers(0, 600).map(Fraction)),
        corrects=corrects,
    )


LOGS = st.lists(logged(), max_size=14, unique_by=lambda entry: entry.name)


def session(*, by_calendar: bool, each: str) -> Session:
    climbing = CLIMBS.format(drill=DRILLS[0], each=each), CLIMBS.format(drill=DRILLS[1], each="drill")
    moves = 'moves = "by the calendar"\nbegins = 2026-01-01' if by_calendar else 'moves = "when done"'
    return session_of(*climbing, 'drill = "five-note cells"', top=f'title = "{TITLE}"', rotation=moves)


@contextmanager
def kept(entries: list[Entry]) -> Iterator[Path]:
    with TemporaryDirectory() as folder:
        path = Path(folder) / "hours.logbook"
        with open_logbook(path, create=True) as book:
            book.append(entries)
        yield path


def told(run: object) -> tuple[object, ...]:
    return tuple(getattr(run, name) for name in ("day", "bpm", "step", "clean", "total"))


def grouped(run: object) -> tuple[object, ...]:
    return (*told(run), *(getattr(run, name) for name in ("key", "variant")))


def a_turn(place: int) -> tuple[str, int]:
    return ("C major", "A minor")[place % 2], place % 3


def the_same_ladders(past: SessionPast, whole: History) -> None:
    assert [*map(grouped, past.runs_of(DRILLS[0]))] == [*map(grouped, whole.runs_of(DRILLS[0]))]
    assert [*map(told, past.runs_of(DRILLS[1]))] == [*map(told, whole.runs_of(DRILLS[1]))]
    assert past.last_day == whole.last_day


@pytest.mark.parametrize("by_calendar", [False, True])
@given(entries=LOGS, today=st.sampled_from(TODAYS))
@settings(max_examples=150, deadline=None)
def test_a_plan_reads_what_all_entries_tell(entries: list[Entry], today: date, *, by_calendar: bool) -> None:
    order = session(by_calendar=by_calendar, each="key")
    holding = effective(entries)
    whole = History(tuple(entry for entry in holding if entry.day < today)).of(order)
    with kept(entries) as path, open_logbook(path, create=False) as book:
        past, of_the_day = book.asked(lambda ask: past_before(ask, order, today))
    the_same_ladders(past, whole)
    assert of_the_day == tuple(entry for entry in holding if entry.day == today)
    assert past.weak(today) == whole.weak(today)
    looked_at = {
        day: seconds for day, seconds in whole.seconds_by_day().items() if (today - day).days <= LOOKED_BACK_DAYS
    }
    assert past.seconds_by_day() == looked_at
    if by_calendar:
        assert past.days_of(TITLE) == whole.days_of(TITLE)
    else:
        assert past.turns_done(TITLE, a_turn, frozenset({3})) == whole.turns_done(TITLE, a_turn, frozenset({3}))


@given(entries=LOGS, today=st.sampled_from(TODAYS))
@settings(max_examples=100, deadline=None)
def test_ladders_read_the_day_itself_too(entries: list[Entry], today: date) -> None:
    order = session(by_calendar=False, each="articulation")
    whole = History(tuple(entry for entry in effective(entries) if entry.day <= today)).of(order)
    with kept(entries) as path, open_logbook(path, create=False) as book:
        the_same_ladders(book.asked(lambda ask: past_until(ask, order, today)), whole)


def test_the_first_and_the_last_day_of_the_calendar_can_be_asked_for() -> None:
    order = session(by_calendar=False, each="drill")
    with kept([]) as path, open_logbook(path, create=False) as book:
        for today in (date.min, date.max):
            past, of_the_day = book.asked(partial(past_before, session=order, today=today))
            assert (past.last_day, of_the_day, [*past.runs_of(DRILLS[0])]) == (None, (), [])
