"""Read the small texts of which patterns are made: cells, lengths, marks, numerals, partials.

Rule    members are separated by spaces. A cell counts scale steps as players do, so there is no 0 and no -1.
Units   lengths in quarter notes, exact: "1/4" is a sixteenth.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from functools import lru_cache
from typing import TypeVar

from droner.practice.layout.partials_table import PARTIALS
from droner.practice.pattern import Mark
from droner.practice.reading.name_fields import Spelled
from droner.theory.key import key
from droner.theory.meter import meter
from droner.theory.roman import roman
from droner.units import Beats

FURTHEST_STEP = 22
"""Three octaves: no wind instrument reaches further from one note."""
LONGEST_BEATS = 64
FINEST = 64
"""The largest number below the line of a length."""
MOST_MEMBERS = 64
EVERY_TRIAD = "every triad"
"""Written in the place of cells: all ten triads that hold the note."""
ATTACKS = ("tongue", "back", "air", "slur")
_COUNT = r"(-?[1-9][0-9]?)"
_LENGTH = r"[1-9][0-9]?(/[1-9][0-9]?)?"
_FRACTION = re.compile(r"(?P<above>[0-9]{1,4})(?:/(?P<below>[1-9][0-9]{0,3}))?")
_MEMBER = TypeVar("_MEMBER")
_C_MAJOR, _C_MINOR = key("C major"), key("C minor")


def _members(text: str, reader: Callable[[str], _MEMBER]) -> tuple[_MEMBER, ...]:
    """Every member of a text, read. ValueError, in plain words, for the first that cannot be."""
    members = text.split()
    if not members:
        raise ValueError("this is empty")
    if len(members) > MOST_MEMBERS:
        raise ValueError(f"this has {len(members)} members, more than {MOST_MEMBERS}")
    return tuple(map(reader, members))


def _fraction(text: str) -> Fraction:
    found = _FRACTION.fullmatch(text)
    if not found:
        raise ValueError(f"{text!r} is not a number or a fraction")
    return Fraction(int(found["above"]), int(found["below"] or 1))


@lru_cache(maxsize=512)
def length(text: str) -> Beats:
    """Read one length: "1", "1/4". ValueError, in plain words, otherwise."""
    beats = _fraction(text)
    if not 0 < beats <= LONGEST_BEATS or beats.denominator > FINEST:
        raise ValueError(f"{text!r} is not a length from 1/{FINEST} to {LONGEST_BEATS} quarter notes")
    return Beats(beats)


def share(text: str) -> Fraction:
    """Read a part of a whole: "0", "1/2". ValueError, in plain words, from 1 on."""
    part = _fraction(text)
    if part >= 1:
        raise ValueError(f"{text!r} is not less than 1")
    return part


def _count(text: str) -> int:
    if not re.fullmatch(r"[+-]?[0-9]{1,3}", text):
        raise ValueError(f"{text!r} is not a count of scale steps")
    steps = int(text)
    if steps in (0, -1):
        raise ValueError(f"{text!r} is no step: 1 is the note itself, 2 the step above, -2 the step below")
    if abs(steps) > FURTHEST_STEP:
        raise ValueError(f"{text!r} is further than three octaves")
    return steps


def _partial(text: str) -> int:
    if text not in {str(number) for number, _ in PARTIALS}:
        raise ValueError(f"{text!r} is not a partial that can be overblown")
    return int(text)


def cell(text: str) -> tuple[int, ...]:
    """Read "1 3 5", "-3 1 3"."""
    return _members(text, _count)


def lengths(text: str) -> tuple[Beats, ...]:
    """Read "1/2 1/4 1/4"."""
    return _members(text, length)


def partials(text: str) -> str:
    """Check "2 3 4 5 6", and give it back with single spaces."""
    numbers = _members(text, _partial)
    if len(numbers) < 2 or list(numbers) != sorted(set(numbers)):
        raise ValueError("partials are at least two, each once, going up")
    return " ".join(map(str, numbers))


def mark(text: str) -> Mark:
    """Read "tongue", "slur", "tongue short"."""
    attack, *more = text.casefold().split() or [""]
    if attack not in ATTACKS or more not in ([], ["short"]):
        raise ValueError("this is not a way to speak a note")
    return Mark(attack, short=bool(more))


def meter_text(text: str) -> str:
    """Check a meter such as "6/8", and give it back without spaces."""
    meter(text)
    return "".join(text.split())


def major_numeral(text: str) -> str:
    """Check a numeral against C major."""
    return _numeral(text, minor=False)


def minor_numeral(text: str) -> str:
    """Check a numeral against C minor."""
    return _numeral(text, minor=True)


def _numeral(text: str, *, minor: bool) -> str:
    try:
        roman(text, _C_MINOR if minor else _C_MAJOR)
    except ValueError:
        raise ValueError(f"{text!r} names no chord in {'C minor' if minor else 'C major'}") from None
    return text.strip()


def chord_of_a_drill(text: str) -> str:
    """Check "V7" for both modes, or "I i": the first for major, the second for minor."""
    numerals = text.split()
    if not 1 <= len(numerals) <= 2:
        raise ValueError("a drill spells out one chord, or one for major and one for minor")
    major_numeral(numerals[0])
    minor_numeral(numerals[-1])
    return " ".join(numerals)


_NUMERAL_PATTERN = r"^[#b\u266f\u266d]?([IV]+|[iv]+|N)[o\u00b0\u00f8+]?(maj7|[0-9]{1,2})?(/\S+)?$"

CELL = Spelled("a cell in scale steps", cell, rf"^\s*{_COUNT}(\s+{_COUNT})*\s*$", '"1 3 5"', own_words=True)
LENGTHS = Spelled(
    "lengths in quarter notes", lengths, rf"^\s*{_LENGTH}(\s+{_LENGTH})*\s*$", '"1/2 1/4 1/4"', own_words=True
)
SHARE = Spelled("a part of a whole", share, r"^[0-9]+(/[0-9]+)?$", '"1/2"', own_words=True)
MARK = Spelled(
    "a way to speak a note",
    mark,
    rf"^({'|'.join(ATTACKS)})( short)?$",
    f'{", ".join(ATTACKS)}, or one of them with "short"',
    near=lambda _: (*ATTACKS, *(f"{attack} short" for attack in ATTACKS)),
)
MAJOR_NUMERAL = Spelled("a chord in C major", major_numeral, _NUMERAL_PATTERN, '"I", "ii", "V7"', own_words=True)
MINOR_NUMERAL = Spelled("a chord in C minor", minor_numeral, _NUMERAL_PATTERN, '"i", "iv", "V7"', own_words=True)
