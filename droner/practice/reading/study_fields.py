"""Read one bar of a written study: its chords, then its notes.

Rule    "I vi | 1:1 #4:1/2 -2:1/2 r:1 '" - numerals that share the bar equally, a bar line, notes as degree and
        length, and at the end an apostrophe where a breath follows. 8 is the octave, -2 the step below the
        tonic, r a rest; a sign before the degree alters it.
Units   lengths in quarter notes.
"""

from __future__ import annotations

import re
from functools import partial

from droner.practice.drill import StudyBar, StudyNote
from droner.practice.reading.cell_fields import FURTHEST_STEP, length, major_numeral, minor_numeral
from droner.practice.reading.name_fields import Spelled
from droner.theory.pitch import SIGNS

MOST_CHORDS = 8
BREATH = "'"
_ALTER_OF_SIGN = {sign: alter for alter, sign in SIGNS.items() if abs(alter) <= 2}
_NOTE = re.compile(r"(?P<sign>bb|b|##|#)?(?P<degree>-?[0-9]{1,2}|r):(?P<length>\S+)")
_NOTE_PATTERN = r"((bb|b|##|#)?-?[1-9][0-9]?|r):[0-9]+(/[0-9]+)?"


def study_note(text: str) -> StudyNote:
    """Read "1:1", "#4:1/2", "r:1". ValueError, in plain words, otherwise."""
    found = _NOTE.fullmatch(text)
    if not found or (found["sign"] and found["degree"] == "r"):
        raise ValueError(f"{text!r} is not a note: a degree, a colon, a length")
    beats = length(found["length"])
    if found["degree"] == "r":
        return StudyNote(0, 0, beats)
    degree = int(found["degree"])
    if degree in (0, -1) or abs(degree) > FURTHEST_STEP:
        raise ValueError(f"{text!r}: there is no degree {degree}; 1 is the tonic, -2 the step below it")
    return StudyNote(degree, _ALTER_OF_SIGN[found["sign"] or ""], beats)


def study_bar(text: str, *, minor: bool) -> StudyBar:
    """Read one bar. ValueError, in plain words, otherwise."""
    chords, line, notes = text.partition("|")
    if not line or "|" in notes:
        raise ValueError("a bar has its chords, then one |, then its notes")
    words = notes.split()
    breath = words[-1:] == [BREATH]
    numerals = tuple(map(minor_numeral if minor else major_numeral, chords.split()))
    played = tuple(map(study_note, words[:-1] if breath else words))
    if not 1 <= len(numerals) <= MOST_CHORDS:
        raise ValueError(f"before the | stand 1 to {MOST_CHORDS} chords, not {len(numerals)}")
    if not any(note.degree for note in played):
        raise ValueError("there is no note after the |")
    return StudyBar(numerals, played, breath)


_BAR_PATTERN = rf"^[^|]*\S[^|]*\|\s*{_NOTE_PATTERN}(\s+{_NOTE_PATTERN})*(\s+')?\s*$"
STUDY_BAR = Spelled(
    "one bar of a study", partial(study_bar, minor=False), _BAR_PATTERN, '"I V7 | 1:1 3:1 5:1 r:1 \'"', own_words=True
)
STUDY_BAR_IN_MINOR = Spelled(
    "one bar of a study", partial(study_bar, minor=True), _BAR_PATTERN, '"i V7 | 1:1 3:1 5:1 r:1 \'"', own_words=True
)
