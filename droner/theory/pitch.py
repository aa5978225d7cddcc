"""Spell a pitch: C sharp is not D flat, and an interval counts both steps and semitones.

Rule    a pitch is a place on the staff (`position`) and a key of the piano (`midi`); an interval is the
        difference of both. Adding an interval to a pitch therefore always spells the answer.
Units   position: staff steps, C0 = 0, so C4 = 28. midi: MIDI key number, C4 = 60, A4 = 69. alter: semitones.
Source  octave numbers: scientific pitch notation, A4 = MIDI 69 (ISO 16; MIDI Tuning Standard).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import overload

LETTERS = "CDEFGAB"
NATURAL_SEMITONES = (0, 2, 4, 5, 7, 9, 11)
FIFTHS_OF_LETTER = (0, 2, 4, -1, 1, 3, 5)
SIGNS = {-3: "bbb", -2: "bb", -1: "b", 0: "", 1: "#", 2: "##", 3: "###"}
SPOKEN_SIGNS = {-2: " double flat", -1: " flat", 0: "", 1: " sharp", 2: " double sharp"}
_ALTER_OF_SIGN = {
    "": 0, "#": 1, "♯": 1, "##": 2, "x": 2, "b": -1, "♭": -1, "bb": -2,
    "sharp": 1, "flat": -1, "double sharp": 2, "double flat": -2,
}  # fmt: skip
_WRITTEN = re.compile(
    r"(?P<letter>[A-Ga-g])\s*(?P<sign>double sharp|double flat|sharp|flat|##|#|x|bb|b|♯|♭)?\s*(?P<octave>-?[0-9])?"
)


@dataclass(frozen=True, slots=True, order=True)
class Interval:
    """A spelled interval: staff steps and semitones, both signed. A major third is (2, 4)."""

    steps: int
    semitones: int

    def __add__(self, other: Interval) -> Interval:
        return Interval(self.steps + other.steps, self.semitones + other.semitones)

    def __sub__(self, other: Interval) -> Interval:
        return Interval(self.steps - other.steps, self.semitones - other.semitones)

    def __neg__(self) -> Interval:
        return Interval(-self.steps, -self.semitones)

    def __mul__(self, times: int) -> Interval:
        return Interval(self.steps * times, self.semitones * times)

    @property
    def fifths(self) -> int:
        """Place on the line of fifths, octaves aside: unison 0, fifth 1, major third 4, minor third -3."""
        return 7 * self.semitones - 12 * self.steps

    @property
    def octaves(self) -> int:
        """Whole octaves in the interval, counted by steps and rounded down."""
        return self.steps // 7

    @property
    def within_octave(self) -> Interval:
        """The simple interval upwards: a tenth gives a third, a second down gives a seventh."""
        return self - OCTAVE * self.octaves


UNISON = Interval(0, 0)
OCTAVE = Interval(7, 12)


@dataclass(frozen=True, slots=True, order=True)
class NoteName:
    """A spelled note without octave: step 0..6 from C, alter in semitones (sharp +1)."""

    step: int
    alter: int = 0

    @property
    def pitch_class(self) -> int:
        """Semitones above C, 0..11."""
        return (NATURAL_SEMITONES[self.step] + self.alter) % 12

    @property
    def fifths(self) -> int:
        """Place on the line of fifths: F -1, C 0, G 1, ... F sharp 6, B flat -2."""
        return FIFTHS_OF_LETTER[self.step] + 7 * self.alter

    @property
    def spoken(self) -> str:
        """The name in words: "B flat"."""
        return LETTERS[self.step] + SPOKEN_SIGNS.get(self.alter, f" {self.alter:+d}")

    def __add__(self, interval: Interval) -> NoteName:
        return (self.in_octave(4) + interval).name

    def in_octave(self, octave: int) -> Pitch:
        """This note in a numbered octave; octave 4 starts at middle C."""
        return Pitch(octave * 7 + self.step, 12 * (octave + 1) + NATURAL_SEMITONES[self.step] + self.alter)

    def __str__(self) -> str:
        return LETTERS[self.step] + SIGNS.get(self.alter, f"{self.alter:+d}")


@dataclass(frozen=True, slots=True)
class Pitch:
    """A spelled pitch: its place on the staff and its MIDI key. Compare by `midi`, then spelling."""

    position: int
    midi: int

    @property
    def name(self) -> NoteName:
        """The spelled note without its octave."""
        step = self.position % 7
        return NoteName(step, self.midi - 12 * (self.octave + 1) - NATURAL_SEMITONES[step])

    @property
    def octave(self) -> int:
        """Octave by spelling: B sharp 3 sounds like C4."""
        return self.position // 7

    def __add__(self, interval: Interval) -> Pitch:
        return Pitch(self.position + interval.steps, self.midi + interval.semitones)

    @overload
    def __sub__(self, other: Pitch) -> Interval: ...
    @overload
    def __sub__(self, other: Interval) -> Pitch: ...
    def __sub__(self, other: Pitch | Interval) -> Interval | Pitch:
        if isinstance(other, Pitch):
            return Interval(self.position - other.position, self.midi - other.midi)
        return self + -other

    def __lt__(self, other: Pitch) -> bool:
        return (self.midi, self.position) < (other.midi, other.position)

    def __le__(self, other: Pitch) -> bool:
        return (self.midi, self.position) <= (other.midi, other.position)

    @property
    def spoken(self) -> str:
        """The pitch in words: "B flat 4"."""
        return f"{self.name.spoken} {self.octave}"

    def __str__(self) -> str:
        return f"{self.name}{self.octave}"


@lru_cache(maxsize=1024)
def note_name(text: str) -> NoteName:
    """Read "C#", "Bb", "B flat", "f sharp". ValueError if it is not a note name."""
    found = _WRITTEN.fullmatch(text.strip())
    if not found or found["octave"]:
        raise ValueError(f"{text!r} is not a note name such as C, F# or B flat")
    return NoteName(LETTERS.index(found["letter"].upper()), _ALTER_OF_SIGN[found["sign"] or ""])


@lru_cache(maxsize=1024)
def pitch(text: str) -> Pitch:
    """Read "C#4", "Bb3", "B flat 3", "D7". ValueError if it is not a pitch with its octave."""
    found = _WRITTEN.fullmatch(text.strip())
    if not found or not found["octave"]:
        raise ValueError(f"{text!r} is not a pitch with its octave, such as C4, F#5 or B flat 3")
    name = NoteName(LETTERS.index(found["letter"].upper()), _ALTER_OF_SIGN[found["sign"] or ""])
    return name.in_octave(int(found["octave"]))
