"""List the scales, one a line, in degrees of the major scale.

Rule    name, rising, falling ("" when the same), signature, about. Degrees stand in rising order in both
        columns, the tonic first. `signature` counts fifths from the tonic's major signature to the one the
        scale is written in; None where players write it without signature.
Source  major, minor, modes: common practice, no source. Octatonic spellings and the harmonic chromatic (one
        spelling both ways: raised fourth, lowered 2 3 6 7): common practice, no source.
        The chromatic and the whole tone are spelled with sharps going up and flats coming down: common
        practice, no source.
"""

from __future__ import annotations

Row = tuple[str, str, str, int | None, str]

ROWS: tuple[Row, ...] = (
    ("major", "1 2 3 4 5 6 7", "", 0, "the major scale"),
    ("natural minor", "1 2 b3 4 5 b6 b7", "", -3, "the minor scale of the key signature"),
    ("harmonic minor", "1 2 b3 4 5 b6 7", "", -3, "minor with a leading note, the sixth left low"),
    ("melodic minor", "1 2 b3 4 5 6 7", "1 2 b3 4 5 b6 b7", -3, "sixth and seventh raised going up only"),
    ("ionian", "1 2 3 4 5 6 7", "", 0, "first mode, the same notes as major"),
    ("dorian", "1 2 b3 4 5 6 b7", "", -2, "second mode: minor with a major sixth"),
    ("phrygian", "1 b2 b3 4 5 b6 b7", "", -4, "third mode: minor with a minor second"),
    ("lydian", "1 2 3 #4 5 6 7", "", 1, "fourth mode: major with a raised fourth"),
    ("mixolydian", "1 2 3 4 5 6 b7", "", -1, "fifth mode: major with a minor seventh"),
    ("aeolian", "1 2 b3 4 5 b6 b7", "", -3, "sixth mode, the same notes as natural minor"),
    ("locrian", "1 b2 b3 4 b5 b6 b7", "", -5, "seventh mode: the fifth is diminished"),
    ("chromatic", "1 #1 2 #2 3 4 #4 5 #5 6 #6 7", "1 b2 2 b3 3 4 b5 5 b6 6 b7 7", None, "every half-step"),
    ("harmonic chromatic", "1 b2 2 b3 3 4 #4 5 b6 6 b7 7", "", None, "every half-step, one spelling"),
    ("whole tone", "1 2 3 #4 #5 #6", "1 2 3 b5 b6 b7", None, "six whole steps"),
    ("octatonic, whole step first", "1 2 b3 4 b5 b6 6 7", "", None, "over a diminished seventh"),
    ("octatonic, half step first", "1 b2 b3 3 #4 5 6 b7", "", None, "over a dominant with b9"),
    ("major pentatonic", "1 2 3 5 6", "", 0, "five notes without half-steps, major"),
    ("minor pentatonic", "1 b3 4 5 b7", "", -3, "five notes without half-steps, minor"),
    ("blues", "1 b3 4 b5 5 b7", "", -3, "minor pentatonic with the diminished fifth between"),
)  # fmt: skip

ALIASES: tuple[tuple[str, str], ...] = (
    ("minor", "natural minor"),
    ("octatonic", "octatonic, whole step first"),
    ("pentatonic", "major pentatonic"),
)
