"""Read a Roman numeral in a key: "V7", "bVI", "viio7", "I64", "V65/V".

Rule    the numeral's case says the triad: capitals major ("+" augmented), small minor ("o" or "°" diminished,
        "ø" half-diminished with its seventh). A seventh is the key's own where the root is in the scale, else
        a minor one; "maj7" is a major one, "o7" a diminished one.
        In minor, capitals stand on the natural scale, and small vi vii on the raised sixth and the leading
        note. "#" raises the scale's degree; "b" stands a half-step below the degree of the major scale, so in
        minor bIII bVI bVII are the natural ones. "N" is the Neapolitan, bII. After "/" stands the chord whose
        own key is borrowed. Figures: 6, 64 of triads; 7, 65, 43, 42 or 2 of sevenths.
Source  Roman numerals and figured bass: common practice, no source.
"""

from __future__ import annotations

import re
from functools import lru_cache

from droner.theory.chord import Chord, interval_up, quality_of
from droner.theory.interval import degree
from droner.theory.key import Key
from droner.theory.pitch import UNISON, Interval, NoteName
from droner.theory.scale import scale

NUMERALS = ("I", "II", "III", "IV", "V", "VI", "VII")
MINOR_FORMS = frozenset({"minor", "natural minor", "harmonic minor", "melodic minor"})
ALLOWED = "b or #, then I..VII, i..vii or N, then o ø or +, then 6 64 7 65 43 42 or maj7, then /V to borrow a key"
_HALF_STEP = Interval(0, 1)
_INVERSIONS = {"": 0, "6": 1, "64": 2, "7": 0, "65": 1, "43": 2, "42": 3, "2": 3, "maj7": 0}
_TRIAD_FIGURES = frozenset({"", "6", "64"})
_THIRD_AND_FIFTH = {
    (True, ""): (degree("3"), degree("5")),
    (True, "+"): (degree("3"), degree("#5")),
    (False, ""): (degree("b3"), degree("5")),
    (False, "o"): (degree("b3"), degree("b5")),
    (False, "ø"): (degree("b3"), degree("b5")),
}
_MARKED_SEVENTH = {"o": degree("bb7"), "ø": degree("b7")}
_WRITTEN = re.compile(
    r"(?P<sign>[#b♯♭]?)(?P<numeral>VII|VI|V|IV|III|II|I|vii|vi|v|iv|iii|ii|i|N)"
    r"(?P<mark>[o°ø+]?)(?P<figures>maj7|64|65|43|42|6|7|2)?"
)


@lru_cache(maxsize=1024)
def roman(text: str, key: Key) -> Chord:
    """The chord a Roman numeral names in a key. ValueError, with what is allowed, otherwise."""
    numeral, slash, borrowed_from = "".join(text.split()).partition("/")
    if slash:
        target = roman(borrowed_from, key)
        mode = "minor" if degree("b3") in target.quality.intervals else "major"
        return roman(numeral, Key(target.root, mode))
    found = _WRITTEN.fullmatch(numeral)
    if not found:
        raise ValueError(f"{text!r} is not a Roman numeral; allowed: {ALLOWED}")
    if found["numeral"] == "N":
        return roman(f"bII{found['mark']}{found['figures'] or ''}", key)
    return _chord(found, key, text)


def _chord(found: re.Match[str], key: Key, text: str) -> Chord:
    capital, mark = found["numeral"].isupper(), found["mark"].replace("°", "o")
    figures = found["figures"] or ("7" if mark == "ø" else "")
    if (capital, mark) not in _THIRD_AND_FIFTH:
        raise ValueError(f"{text!r}: {mark} does not go with {found['numeral']}; allowed: {ALLOWED}")
    if mark == "ø" and figures in _TRIAD_FIGURES:
        raise ValueError(f"{text!r}: ø is a seventh chord; write o for the triad, or 65 43 42 for its inversions")
    place = NUMERALS.index(found["numeral"].upper())
    root = _root(place, found["sign"], capital, key)
    intervals: tuple[Interval, ...] = (UNISON, *_THIRD_AND_FIFTH[capital, mark])
    if figures not in _TRIAD_FIGURES:
        intervals += (degree("7") if figures == "maj7" else _seventh(root, place, mark, key),)
    try:
        return Chord(root, quality_of(intervals), _INVERSIONS[figures])
    except ValueError as unnamed:
        raise ValueError(f"{text!r} in {key}: {unnamed}") from None


def _root(place: int, sign: str, capital: bool, key: Key) -> NoteName:  # noqa: FBT001 - part of the numeral
    """The note a numeral stands on."""
    if sign in {"b", "♭"}:
        return key.tonic + degree(f"b{place + 1}")
    note = _scale(key)[place]
    leads = key.mode in MINOR_FORMS and place >= 5 and not capital
    return note + _HALF_STEP if sign or leads else note


def _seventh(root: NoteName, place: int, mark: str, key: Key) -> Interval:
    """The seventh above a root: as marked, else the key's own, else minor."""
    if mark in _MARKED_SEVENTH:
        return _MARKED_SEVENTH[mark]
    notes = _scale(key)
    if root not in notes:
        return degree("b7")
    return interval_up(root, notes[(place + 6) % 7])


def _scale(key: Key) -> tuple[NoteName, ...]:
    """The seven degrees that numerals count. ValueError for a scale that has not seven."""
    notes = scale("natural minor").notes(key.tonic) if key.mode in MINOR_FORMS else key.notes
    if len(notes) != len(NUMERALS):
        raise ValueError(f"{key} has not seven degrees for Roman numerals")
    return notes
