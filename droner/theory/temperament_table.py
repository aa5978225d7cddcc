"""List the temperaments by how far each fifth is narrowed.

Rule    narrowing stands in parts of the Pythagorean and of the syntonic comma. A regular temperament narrows
        every fifth of the spelled line alike, for ever. A well temperament closes the circle of twelve: what it
        does not name is pure, and its narrowings add up to one Pythagorean comma.
        The circle is written from C; it starts at the tuning's reference note.
Source  Pythagorean, quarter-comma meantone: Barbour 1951 (from memory). Werckmeister III: A. Werckmeister,
        Musicalische Temperatur, Quedlinburg 1691. Kirnberger III: letter to Forkel 1779, the schisma on F#-C#
        (ringing.info, Taylor). Vallotti: 1779 (from memory), tempering as on rollingball.com.
        Young 1 and 2: T. Young, Phil. Trans. R. Soc. 90 (1800) 106-150; his second is Barbour's.
"""

from __future__ import annotations

from fractions import Fraction

Narrowing = tuple[str, Fraction, Fraction]
"""Fifths by name, parts of the Pythagorean comma, parts of the syntonic comma."""

_QUARTER = Fraction(1, 4)
_SIXTH = Fraction(1, 6)
_NONE = Fraction(0)

CIRCLE = ("C-G", "G-D", "D-A", "A-E", "E-B", "B-F#", "F#-C#", "C#-G#", "G#-Eb", "Eb-Bb", "Bb-F", "F-C")

REGULAR: tuple[tuple[str, Fraction, Fraction, str], ...] = (
    ("pythagorean", _NONE, _NONE, "pure fifths, wide major thirds"),
    ("meantone", _NONE, _QUARTER, "quarter-comma meantone: pure major thirds, narrow fifths"),
)

WELL: tuple[tuple[str, tuple[Narrowing, ...], str], ...] = (
    ("werckmeister 3", (("C-G G-D D-A B-F#", _QUARTER, _NONE),), "four fifths narrowed by a quarter comma"),
    (
        "kirnberger 3",
        (("C-G G-D D-A A-E", _NONE, _QUARTER), ("F#-C#", Fraction(1), Fraction(-1))),
        "pure third C-E, the schisma on F#-C#",
    ),
    ("vallotti", (("F-C C-G G-D D-A A-E E-B", _SIXTH, _NONE),), "six fifths narrowed by a sixth of the comma"),
    (
        "young 1",
        (
            ("C-G G-D D-A A-E", _NONE, Fraction(3, 16)),
            ("E-B B-F# Bb-F F-C", _QUARTER, Fraction(-3, 16)),
        ),
        "Young's first: smooth from C major outwards",
    ),
    ("young 2", (("C-G G-D D-A A-E E-B B-F#", _SIXTH, _NONE),), "Young's second: Vallotti's, one fifth further"),
)

ALIASES: tuple[tuple[str, str], ...] = (
    ("12-tet", "equal"),
    ("equal temperament", "equal"),
    ("just intonation", "just"),
    ("pure", "just"),
    ("quarter-comma meantone", "meantone"),
    ("werckmeister", "werckmeister 3"),
    ("werckmeister iii", "werckmeister 3"),
    ("kirnberger", "kirnberger 3"),
    ("kirnberger iii", "kirnberger 3"),
    ("young", "young 2"),
)
