"""Entries for the tests of the logbook: plain ones, and what a hostile program might write. All invented.

Rule    an entry made from its name alone is always the same, so that a killed program's entries can be judged whole.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from fractions import Fraction
from typing import Any

from hypothesis import strategies as st

from droner.practice.logbook.entry import (
    FINEST,
    JUDGED,
    LONGEST_NAME,
    LONGEST_NOTE,
    MOST_BPM,
    MOST_COUNTED,
    MOST_RUNS,
    MOST_SECONDS,
    Entry,
)

MORNING = datetime(2026, 1, 5, 8, 30, tzinfo=UTC)


def entry(number: int, **changes: Any) -> Entry:
    """An entry of a winter: the tenth of them is the first of the second day."""
    plain = Entry(
        name=f"{number:032x}",
        written=MORNING + timedelta(days=number // 10, minutes=number % 10 * 4, microseconds=number),
        day=MORNING.date() + timedelta(days=number // 10),
        session="Winter fundamentals",
        instrument="flute",
        drill=("slow chromatic", "turning scale", "triads")[number % 3],
        key=("C major", "A minor", "F sharp minor", "")[number % 4],
        variant=number % 60,
        place=number if number % 5 else None,
        bpm=Fraction(60 + number % 40) if number % 7 else Fraction(63, 2),
        step="",
        clean=number % 4,
        total=4,
        seconds=Fraction(number % 600, 7) if number % 6 else None,
        note='high E♭ sharp, "again"' if number % 11 == 0 else "",
    )
    return replace(plain, **changes)


def named(name: str) -> Entry:
    """The entry of a name drawn by chance."""
    return entry(int(name[:6], 16), name=name)


NAMES = st.integers(0, 16**32 - 1).map("{:032x}".format)
_SIGNS = st.characters(exclude_categories=["Cs"], exclude_characters="\0")
_ENDS = ("\n", "\r\n", "\r", "\u2028", "\x85", "\x0b\x0c", "\x1c\x1e")
_MARKS = ('"', '""', ",", ";", "\t", "'", "\\", "--", " ", "=1+1", "@", "+", "\ufeff", "\x1a", "\x1b[2J", "\x7f")
_WORDS = ("NULL", "null", "nan", "63/2", "\U0001f3b5", "e\u0301", "\u202eabc", "שלום", "\ud7ff\ue000\U0010ffff")
_SNAGS = st.sampled_from((*_ENDS, *_MARKS, *_WORDS))


def hostile(longest: int) -> st.SearchStrategy[str]:
    """Text that a careless format would break on."""
    snagged = st.lists(_SNAGS | _SIGNS, max_size=12).map("".join)
    return (snagged | st.text(_SIGNS, max_size=30)).map(lambda text: text[:longest])


def _fractions(most: int) -> st.SearchStrategy[Fraction]:
    return st.fractions(0, most, max_denominator=FINEST) | st.integers(0, most).map(Fraction)


@st.composite
def entries(draw: st.DrawFn) -> Entry:
    """Anything that an entry can be."""
    corrects = draw(st.just("") | NAMES)
    total = draw(st.integers(0 if corrects else 1, MOST_RUNS))
    words = st.sampled_from(["", "flute", *draw(st.lists(hostile(LONGEST_NAME), min_size=2, max_size=3))])
    return Entry(
        name=draw(NAMES),
        written=draw(st.datetimes(timezones=st.just(UTC))),
        day=draw(st.dates(date.min, date.max)),
        session=draw(words),
        instrument=draw(words),
        drill=draw(words.map(lambda text: text or "triads")),
        key=draw(words),
        variant=draw(st.integers(0, MOST_COUNTED)),
        place=draw(st.none() | st.integers(0, MOST_COUNTED)),
        bpm=draw(_fractions(MOST_BPM).filter(bool)),
        step=draw(words),
        clean=draw(st.integers(0, total)),
        total=total,
        seconds=draw(st.none() | _fractions(MOST_SECONDS)),
        judged=draw(st.sampled_from(JUDGED)),
        note=draw(hostile(LONGEST_NOTE)),
        corrects=corrects,
    )


def logs(most: int = 4) -> st.SearchStrategy[list[Entry]]:
    """Several entries, each with a name of its own."""
    return st.lists(entries(), max_size=most, unique_by=lambda each: each.name)
