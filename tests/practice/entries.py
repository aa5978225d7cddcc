"""Entries as a player's logbook holds them, for the tests of what reads them. The entries are invented."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from fractions import Fraction
from hashlib import sha256

from droner.practice.logbook.entry import Entry

NOON = datetime(2026, 1, 5, 12, tzinfo=UTC)


def entry(
    day: date,
    clean: int,
    total: int,
    *,
    drill: str = "turning scale",
    key: str = "C major",
    bpm: float = 60,
    variant: int = 0,
    place: int | None = None,
    session: str = "Practice",
    instrument: str = "flute",
    seconds: float | None = None,
    number: int = 0,
) -> Entry:
    """One entry; its name comes from all that it says and its number."""
    words = f"{day} {clean}/{total} {drill} {key} {bpm} {variant} {place} {session} {instrument} {number}"
    return Entry(
        name=sha256(words.encode()).hexdigest()[:32],
        written=NOON + timedelta(days=(day - NOON.date()).days, seconds=number),
        day=day,
        session=session,
        instrument=instrument,
        drill=drill,
        key=key,
        variant=variant,
        place=place,
        bpm=Fraction(bpm),
        step="",
        clean=clean,
        total=total,
        seconds=None if seconds is None else Fraction(seconds),
    )
