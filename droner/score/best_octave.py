"""Choose the octave that a drone's root lies in: as asked for, the usual one, or the one where beats can be counted.

Rule    a note that is a few cents off beats against the drone, slowest over the octave that `theory.beats` calls the
        best. What serves several notes is put to the vote: every note votes for its best octave with its time, and
        of two with as many votes the nearer to the usual one is taken. The lowest tone that the drone holds is the
        one that is counted against.
Units   octaves by number; time in Beats.
"""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction
from typing import TYPE_CHECKING

from droner.theory.beats import beats_against

if TYPE_CHECKING:
    from collections.abc import Iterable

    from droner.practice.item import Item
    from droner.practice.session import Session
    from droner.theory.pitch import Interval, NoteName, Pitch
    from droner.theory.tuning import Tuning
    from droner.units import Beats

USUAL_OCTAVE, LOW_OCTAVE = 3, 2
LOW_COMPASS_MIDI = 48
"""Instruments whose compass starts below C3 are given the lower drone."""

Timed = tuple["Pitch", "Beats"]
"""A note as it sounds, and for how long."""


def drone_octave(
    item: Item, session: Session, root: NoteName, lowest: Interval, notes: Iterable[Timed], tuned: Tuning
) -> int:
    """The octave of the root of a drone under these notes. `lowest`: from the root to its lowest tone."""
    asked, usual = item.block.drone_octave, usual_octave(session)
    if isinstance(asked, int):
        return asked
    return usual if asked is None else best_octave(root.in_octave(usual), lowest, notes, tuned)


def usual_octave(session: Session) -> int:
    """The octave of a drone's root when nobody asks for another."""
    lowest = session.compass.low + session.instrument.sounding
    return LOW_OCTAVE if lowest.midi < LOW_COMPASS_MIDI else USUAL_OCTAVE


def best_octave(root: Pitch, lowest: Interval, notes: Iterable[Timed], tuned: Tuning) -> int:
    """The octave of the root that serves these notes for the longest time; the root's own where it serves none."""
    times: defaultdict[Pitch, Fraction] = defaultdict(Fraction)
    for note, length in notes:
        times[note] += length.exact
    drone = root + lowest
    votes: defaultdict[int, Fraction] = defaultdict(Fraction)
    for note, time in times.items():
        best = beats_against(drone, note, tuned).best_drone_octave
        if best is not None:
            votes[root.octave + best - drone.octave] += time
    return max(votes, key=lambda octave: (votes[octave], -abs(octave - root.octave), -octave), default=root.octave)
