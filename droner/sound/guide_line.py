"""Lay the solo's notes out in frames, each with the place in its tone at which it starts.

Rule    one note sounds at a time: a note ends where the next begins, if not before. A tongued note starts with its
        tone. A slur leads over from tone to tone in an instant, and the new tone is entered where it stands as the old
        one does half way over, to the nearest frame: so neither weakens the other. A slur to the same pitch goes on in
        the same tone.
Units   frames; a place in a tone is counted in frames from its start, where all its partials are 0 and rise.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from droner.score.score import Attack, Bar, SoloNote
from droner.sound.guide_table import ATTACKS, RELEASE_MS, SLUR_MS
from droner.sound.timeline import Timeline


class GuideLine:
    """The notes that sound, in order, as columns: start, stop, place in the tone, frames led over into it."""

    def __init__(self, notes: Sequence[SoloNote], bars: Sequence[Bar], timeline: Timeline) -> None:
        starts = np.fromiter((timeline.frame(note.onset) for note in notes), np.int64, len(notes))
        stops = np.fromiter((timeline.frame(note.onset + note.sounded) for note in notes), np.int64, len(notes))
        stops[:-1] = np.minimum(stops[:-1], starts[1:])
        heard = stops > starts
        self.timeline = timeline
        self.bars = bars
        self.notes = [note for note, is_heard in zip(notes, heard, strict=True) if is_heard]
        self.starts, self.stops = starts[heard], stops[heard]
        self.slurred = np.array([note.attack is Attack.SLUR for note in self.notes], dtype=bool)
        self.slurred[:1] = False
        self.slurred[1:] &= self.starts[1:] == self.stops[:-1]
        longest = timeline.frames_in_ms(SLUR_MS)
        self.over = np.where(self.slurred, np.minimum((self.stops - self.starts) // 2, longest), 0)
        self.tails = np.append(self.over[1:], 0) if len(self.notes) else self.over
        self.places = self._places()

    def _places(self) -> list[int]:
        """Where in its tone each note starts."""
        places: list[int] = []
        rate_hz = self.timeline.rate_hz
        for number, note in enumerate(self.notes):
            place = 0
            if self.slurred[number]:
                before = self.notes[number - 1].hz
                reached = places[-1] + int(self.stops[number - 1] - self.starts[number - 1])
                half = int(self.over[number]) / 2
                turns = ((reached + half) * before - half * note.hz) / rate_hz
                place = reached if before == note.hz else round(turns % 1.0 * rate_hz / note.hz)
            places.append(place)
        return places

    def rise(self, number: int) -> int:
        """The frames in which a note reaches its loudness, or takes over from the one before."""
        if self.slurred[number]:
            return int(self.over[number])
        rise_ms = ATTACKS[self.notes[number].attack].rise_ms
        return min(self.timeline.frames_in_ms(rise_ms), int(self.stops[number] - self.starts[number]) // 2)

    def fall(self, number: int) -> int:
        """The frames in which a note dies away, or gives way to the next."""
        if self.tails[number]:
            return int(self.tails[number])
        return min(self.timeline.frames_in_ms(RELEASE_MS), int(self.stops[number] - self.starts[number]) // 2)
