"""List the orders in which players go through all the keys, one a line.

Rule    name, half-steps from one tonic to the next, what is played on each tonic, description.
        Every order is a full cycle: twelve tonics, one or two keys on each.
Source  minor then major of each tonic, up by half-steps from the lowest note: common practice, no source.
        Spellings: the usual twelve major and twelve minor keys, common practice, no source.
"""

from __future__ import annotations

USUAL_MAJORS = ("C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B")
USUAL_MINORS = ("C", "C#", "D", "Eb", "E", "F", "F#", "G", "G#", "A", "Bb", "B")

Row = tuple[str, int, tuple[str, ...], str]

ROWS: tuple[Row, ...] = (
    ("half-steps up, minor then major", 1, ("minor", "major"), "minor, then major; up by half-steps"),
    ("half-steps up, major then minor", 1, ("major", "minor"), "major, then minor; up by half-steps"),
    ("half-steps up, major", 1, ("major",), "the twelve major keys, up by half-steps"),
    ("half-steps up, minor", 1, ("minor",), "the twelve minor keys, up by half-steps"),
    ("half-steps down, minor then major", 11, ("minor", "major"), "minor, then major; down by half-steps"),
    ("half-steps down, major then minor", 11, ("major", "minor"), "major, then minor; down by half-steps"),
    ("half-steps down, major", 11, ("major",), "the twelve major keys, down by half-steps"),
    ("half-steps down, minor", 11, ("minor",), "the twelve minor keys, down by half-steps"),
    ("circle of fifths, major then minor", 7, ("major", "minor"), "major, then minor; one sharp more"),
    ("circle of fifths, major", 7, ("major",), "the twelve major keys, one sharp more"),
    ("circle of fifths, minor", 7, ("minor",), "the twelve minor keys, one sharp more"),
    ("circle of fourths, major then minor", 5, ("major", "minor"), "major, then minor; one flat more"),
    ("circle of fourths, major", 5, ("major",), "the twelve major keys, one flat more"),
    ("circle of fourths, minor", 5, ("minor",), "the twelve minor keys, one flat more"),
    ("relative pairs", 5, ("major", "relative minor"), "a major key, its relative minor; one flat more"),
)  # fmt: skip
