"""Read the chord that some notes spell, if they spell one.

Rule    spelling decides: C E G sharp is an augmented triad, C E A flat is A flat's in first inversion.
"""

from __future__ import annotations

from functools import lru_cache

from droner.theory.chord import QUALITIES, Chord
from droner.theory.pitch import Interval, NoteName

FEWEST_NOTES = 3


@lru_cache(maxsize=4096)
def spelled_chord(names: tuple[NoteName, ...]) -> Chord | None:
    """The triad or seventh chord whose notes these are, in any order; None when they are not one."""
    notes = tuple(dict.fromkeys(names))
    if len(notes) < FEWEST_NOTES:
        return None
    for root in notes:
        heard = {_above(root, note) for note in notes}
        for quality in QUALITIES.values():
            if heard == {interval.within_octave for interval in quality.intervals}:
                return Chord(root, quality)
    return None


def _above(root: NoteName, note: NoteName) -> Interval:
    return (note.in_octave(4) - root.in_octave(4)).within_octave
