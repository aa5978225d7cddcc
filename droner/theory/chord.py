"""Spell a chord: on a root, in an inversion, as its symbol and in words.

Rule    notes are listed from the root upwards, whatever the inversion; the inversion only says which of them
        is the bass. Triads that sound alike on every note (augmented) count once, as the root's.
        In minor, the fifth and seventh degrees take the leading note unless the natural form is asked.
Source  kinds of chord: `chord_table`. Chords on the degrees: thirds stacked in the scale, common practice.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from droner.theory.chord_table import OTHER_SIGNS, ROWS
from droner.theory.interval import degrees
from droner.theory.key import Key
from droner.theory.pitch import UNISON, Interval, NoteName, note_name

ROLES = ("root", "third", "fifth", "seventh")
TRIADS = ("major", "minor", "diminished", "augmented")
_SYMBOL = re.compile(r"(?P<root>[A-G](?:##|#|bb|b|♯|♭)?)(?P<sign>[^/]*)(?:/(?P<bass>[A-G](?:##|#|bb|b|♯|♭)?))?")


@dataclass(frozen=True, slots=True)
class Quality:
    """A kind of chord: intervals from the root upwards, the sign after the root in a symbol."""

    name: str
    symbol: str
    intervals: tuple[Interval, ...]


QUALITIES: Mapping[str, Quality] = MappingProxyType(
    {name: Quality(name, symbol, degrees(row)) for name, symbol, row in ROWS}
)
"""Every kind of chord by its name."""

_BY_SIGN = {one.symbol: one for one in QUALITIES.values()}
_BY_SIGN |= {sign: _BY_SIGN[usual] for sign, usual in OTHER_SIGNS}
_BY_INTERVALS = {one.intervals: one for one in QUALITIES.values()}


@dataclass(frozen=True, slots=True)
class Chord:
    """A chord on a spelled root. `bass` counts the note that lies lowest: 0 the root, 1 the third ..."""

    root: NoteName
    quality: Quality
    bass: int = 0

    def __post_init__(self) -> None:
        if not 0 <= self.bass < len(self.quality.intervals):
            raise ValueError(f"a {self.quality.name} chord has no inversion {self.bass}")

    @property
    def notes(self) -> tuple[NoteName, ...]:
        """The notes from the root upwards, spelled."""
        return tuple(self.root + interval for interval in self.quality.intervals)

    @property
    def bass_note(self) -> NoteName:
        """The note that lies lowest."""
        return self.root + self.quality.intervals[self.bass]

    @property
    def symbol(self) -> str:
        """The lead-sheet symbol: "F#m7b5", in an inversion "C/E"."""
        plain = f"{self.root}{self.quality.symbol}"
        return f"{plain}/{self.bass_note}" if self.bass else plain

    @property
    def spoken(self) -> str:
        """The chord in words: "F sharp half-diminished seventh", "C major over E"."""
        plain = f"{self.root.spoken} {self.quality.name}"
        return f"{plain} over {self.bass_note.spoken}" if self.bass else plain

    def transposed(self, interval: Interval) -> Chord:
        """The same chord an interval away."""
        return Chord(self.root + interval, self.quality, self.bass)

    def __str__(self) -> str:
        return self.symbol


@lru_cache(maxsize=512)
def chord(symbol: str) -> Chord:
    """Read "F#m7b5", "Bb", "C/E", "Dm7". ValueError, with the signs allowed, otherwise."""
    found = _SYMBOL.fullmatch("".join(symbol.split()))
    if not found or found["sign"] not in _BY_SIGN:
        signs = " ".join(one.symbol for one in QUALITIES.values())
        raise ValueError(f"{symbol!r} is not a chord: a root such as F# or Bb, then nothing or one of {signs}")
    plain = Chord(note_name(found["root"]), _BY_SIGN[found["sign"]])
    if not found["bass"]:
        return plain
    bass = note_name(found["bass"])
    if bass not in plain.notes:
        raise ValueError(f"{symbol!r}: {bass} is not a note of {plain}, which has {' '.join(map(str, plain.notes))}")
    return Chord(plain.root, plain.quality, plain.notes.index(bass))


def quality_of(intervals: tuple[Interval, ...]) -> Quality:
    """The kind of chord with exactly these intervals from the root. ValueError where it has no name here."""
    if intervals not in _BY_INTERVALS:
        raise ValueError(f"no chord here has the intervals {intervals}")
    return _BY_INTERVALS[intervals]


def triads_containing(note: NoteName, qualities: Iterable[str] = TRIADS) -> tuple[tuple[Chord, str], ...]:
    """Every triad that holds the note, spelled as given, with the note's role in it; ten over all four kinds.

    First those in which it is the root, then the third, then the fifth. Each sound comes once.
    """
    kinds = [QUALITIES[name] for name in qualities]
    found: dict[frozenset[int], tuple[Chord, str]] = {}
    for place, role in enumerate(ROLES[:3]):
        for kind in kinds:
            one = Chord(note + -kind.intervals[place], kind)
            found.setdefault(frozenset(name.pitch_class for name in one.notes), (one, role))
    return tuple(found.values())


def triads_in_key_containing(note: NoteName, key: Key) -> tuple[tuple[Chord, str], ...]:
    """The three triads of the key's scale that hold the note: as root, third and fifth.

    A note of the scale coming down only (melodic minor) takes the chords of the scale coming down.
    ValueError when the note is not in the key as spelled.
    """
    for falling in (False, True):
        notes = key.scale.notes(key.tonic, falling=falling)
        if note in notes:
            place = notes.index(note)
            return tuple(
                (_stacked(notes, (place - 2 * back) % len(notes), 3), role) for back, role in enumerate(ROLES[:3])
            )
    raise ValueError(f"{note} is not a note of {key}")


def chord_on_degree(key: Key, degree: int, size: int = 3, *, leading_note: bool = True) -> Chord:
    """The chord of `size` notes (3 or 4) in thirds on a degree 1..7 of the key.

    In a minor key the chords on 5 and 7 take the leading note, as in harmonic minor; `leading_note` False
    keeps the natural form. ValueError for a scale that has not seven notes.
    """
    notes = key.notes
    if len(notes) != 7:
        raise ValueError(f"{key} has not seven degrees to build chords on")
    if not 1 <= degree <= 7 or size not in {3, 4}:
        raise ValueError(f"chords have 3 or 4 notes on degrees 1 to 7, not {size} on {degree}")
    if leading_note and degree in {5, 7} and key.mode == "minor":
        notes = (*notes[:6], key.tonic + Interval(6, 11))
    return _stacked(notes, degree - 1, size)


def _stacked(notes: tuple[NoteName, ...], place: int, size: int) -> Chord:
    """Thirds stacked within a scale of seven notes."""
    taken = [notes[(place + 2 * step) % len(notes)] for step in range(size)]
    return Chord(taken[0], quality_of(tuple(interval_up(taken[0], name) for name in taken)))


def interval_up(low: NoteName, high: NoteName) -> Interval:
    """The interval within an octave from one note name up to the next place of another."""
    if low == high:
        return UNISON
    return (high.in_octave(4) - low.in_octave(4)).within_octave
