"""Name a key: its tonic as spelled, its mode, its signature and its scale.

Rule    a key is written as players write it. Transposing one gives the spelled answer, respelled to the
        usual key only where that would need more than seven sharps or flats (G sharp major -> A flat major).
        A mode takes the signature of the major scale whose notes it shares; harmonic and melodic minor that
        of natural minor; a scale without signature has 0.
Units   signature: sharps positive, flats negative, -7..7.
Source  key signatures by fifths: SMF 1.0 key-signature meta event (FF 59); common practice, no source.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from droner.errors import nearest
from droner.theory.pitch import Interval, NoteName, note_name
from droner.theory.scale import SCALES, Scale, scale

MOST_ACCIDENTALS = 7
_ENHARMONIC_FIFTHS = 12
_UP_A_DIMINISHED_SECOND = Interval(1, 0)
_KEY = re.compile(
    r"(?P<tonic>[a-g]\s?(?:double sharp|double flat|sharp|flat|##|#|x|bb|b|♯|♭)?)"
    r"(?:\s(?P<mode>.+)|(?P<short>m))"
)


@dataclass(frozen=True, slots=True)
class Key:
    """A key: "major", "minor" or the name of a scale over a spelled tonic."""

    tonic: NoteName
    mode: str

    def __post_init__(self) -> None:
        scale(self.mode)

    @property
    def scale(self) -> Scale:
        """The scale of its mode; the natural form for "minor"."""
        return scale(self.mode)

    @property
    def notes(self) -> tuple[NoteName, ...]:
        """Its scale going up from the tonic, spelled."""
        return self.scale.notes(self.tonic)

    @property
    def is_minor(self) -> bool:
        """Whether the third above the tonic is minor: so also dorian, phrygian and the like."""
        return self.scale.is_minor

    @property
    def signature(self) -> int:
        """Sharps (+) or flats (-), -7..7: a key that would need more counts as its enharmonic twin."""
        if self.scale.signature is None:
            return 0
        return _within_seven(self.tonic.fifths + self.scale.signature)

    @property
    def usual(self) -> Key:
        """This key, or its enharmonic twin where this one would need more than seven accidentals."""
        fifths = self.tonic.fifths + (self.scale.signature or 0)
        twins = (fifths - _within_seven(fifths)) // _ENHARMONIC_FIFTHS
        return Key(self.tonic + _UP_A_DIMINISHED_SECOND * twins, self.mode) if twins else self

    def transposed(self, interval: Interval) -> Key:
        """The key an interval away, respelled to the usual one beyond seven accidentals."""
        return Key(self.tonic + interval, self.mode).usual

    @property
    def spoken(self) -> str:
        """The key in words: "E flat minor"."""
        return f"{self.tonic.spoken} {self.mode}"

    def __str__(self) -> str:
        return f"{self.tonic} {self.mode}"


def _within_seven(fifths: int) -> int:
    while fifths > MOST_ACCIDENTALS:
        fifths -= _ENHARMONIC_FIFTHS
    while fifths < -MOST_ACCIDENTALS:
        fifths += _ENHARMONIC_FIFTHS
    return fifths


@lru_cache(maxsize=512)
def key(text: str) -> Key:
    """Read "Eb major", "B flat minor", "c minor", "F#m", "D dorian". ValueError otherwise."""
    asked = " ".join(text.replace("-", " ").casefold().split())
    found = _KEY.fullmatch(asked)
    if not found:
        raise ValueError(f"{text!r} is not a key: a note and a mode, such as Eb major, F# minor or D dorian")
    mode = "minor" if found["short"] else found["mode"]
    if mode not in SCALES and mode != "minor":
        close = nearest(mode, ["minor", *SCALES])
        hint = f"; did you mean {close}?" if close else ""
        raise ValueError(f"{text!r} is not a key: {mode!r} is not major, minor or the name of a scale{hint}")
    return Key(note_name(found["tonic"]), mode)


@lru_cache(maxsize=1)
def usual_keys() -> tuple[Key, ...]:
    """The fifteen major keys from seven flats to seven sharps, then the fifteen minor keys likewise."""
    majors = tuple(Key(_on_line_of_fifths(place), "major") for place in range(-7, 8))
    minors = tuple(Key(_on_line_of_fifths(place + 3), "minor") for place in range(-7, 8))
    return majors + minors


def _on_line_of_fifths(place: int) -> NoteName:
    """The note so many fifths above C: 1 is G, -2 is B flat."""
    return NoteName(4 * place % 7, (place + 1) // 7)
