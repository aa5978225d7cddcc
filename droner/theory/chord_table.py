"""List the kinds of chord, one a line, in degrees of the major scale above the root.

Rule    name, sign after the root in a chord symbol, degrees from the root upwards.
Source  chord names and lead-sheet signs: common practice, no source.
"""

from __future__ import annotations

Row = tuple[str, str, str]

ROWS: tuple[Row, ...] = (
    ("major", "", "1 3 5"),
    ("minor", "m", "1 b3 5"),
    ("diminished", "dim", "1 b3 b5"),
    ("augmented", "aug", "1 3 #5"),
    ("suspended fourth", "sus4", "1 4 5"),
    ("suspended second", "sus2", "1 2 5"),
    ("open fifth", "5", "1 5"),
    ("dominant seventh", "7", "1 3 5 b7"),
    ("major seventh", "maj7", "1 3 5 7"),
    ("minor seventh", "m7", "1 b3 5 b7"),
    ("half-diminished seventh", "m7b5", "1 b3 b5 b7"),
    ("diminished seventh", "dim7", "1 b3 b5 bb7"),
    ("minor-major seventh", "m(maj7)", "1 b3 5 7"),
    ("augmented-major seventh", "maj7#5", "1 3 #5 7"),
    ("augmented seventh", "7#5", "1 3 #5 b7"),
    ("dominant seventh with suspended fourth", "7sus4", "1 4 5 b7"),
)

OTHER_SIGNS: tuple[tuple[str, str], ...] = (
    ("maj", ""),
    ("min", "m"),
    ("-", "m"),
    ("o", "dim"),
    ("+", "aug"),
    ("min7", "m7"),
    ("-7", "m7"),
    ("M7", "maj7"),
    ("ø", "m7b5"),
    ("ø7", "m7b5"),
    ("o7", "dim7"),
    ("mM7", "m(maj7)"),
    ("mmaj7", "m(maj7)"),
    ("+maj7", "maj7#5"),
    ("+7", "7#5"),
    ("aug7", "7#5"),
    ("sus", "sus4"),
)
"""Other signs in use, with the one this project writes."""
