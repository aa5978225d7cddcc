"""Lay the solo's notes out in frames, each with the place in its tone at which it starts.

Rule    one note sounds at a time: a note ends where the next begins, if not before. A tongued note starts with its
        tone. A slur leads over from tone to tone in an instant, and the new tone is entered where it stands as the old
        one does half way over, to the nearest frame: so neither weakens the other. A slur to the same pitch goes on in
        the same tone. The notes are walked once, into columns: a long score writes them out anew at every walk.
Units   frames; a place in a tone is counted in frames from its start, where all its partials are 0 and rise.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from droner.score.score import Attack, Bar, SoloNote
from droner.sound.guide_level import highest_level, is_moving, steady_level
from droner.sound.guide_table import ATTACKS, RELEASE_MS, SLUR_MS
from droner.sound.timeline import Timeline
from droner.sound.voice import Amounts, Counts, Flags

ROW = np.dtype([("start", np.int64), ("stop", np.int64), ("sound", np.int32)])


@dataclass(slots=True)
class _Sounds:
    """The different sounds of the notes, numbered: of each what does not change from note to note."""

    numbers: dict[tuple[object, ...], int] = field(default_factory=dict)
    first: list[SoloNote] = field(default_factory=list)

    def number(self, note: SoloNote) -> int:
        """Which of them the note has."""
        sound = note.hz, note.velocity, note.attack, note.accent, note.shape, note.pulses
        number = self.numbers.setdefault(sound, len(self.first))
        if number == len(self.first):
            self.first.append(note)
        return number


class GuideLine:
    """The notes that sound, in order, as columns: start, stop, place in the tone, frames in which it rises and falls.

    `tails` are the frames in which the next takes over. `sounds` says which sound each note has; `hz`, `moving`,
    `steady` and `highest` tell of each sound its hertz, whether its loudness moves, and how loud it is.
    """

    def __init__(self, notes: Sequence[SoloNote], bars: Sequence[Bar], timeline: Timeline) -> None:
        kept = _Sounds()
        rows = np.fromiter(
            ((*timeline.span(note.onset, note.sounded), kept.number(note)) for note in notes), ROW, len(notes)
        )
        rows["stop"][:-1] = np.minimum(rows["stop"][:-1], rows["start"][1:])
        heard = np.flatnonzero(rows["stop"] > rows["start"])
        self.timeline = timeline
        self.bars = bars
        self._notes, self._numbers = notes, heard.astype(np.int32)
        self.starts, self.stops, self.sounds = (rows[name][heard] for name in ("start", "stop", "sound"))
        self.hz: Amounts = np.array([note.hz for note in kept.first], dtype=np.float64)
        self.moving: Flags = np.array([is_moving(note) for note in kept.first], dtype=np.bool_)
        self.steady: Amounts = np.array([steady_level(note) for note in kept.first], dtype=np.float64)
        self.highest: Amounts = np.array([highest_level(note) for note in kept.first], dtype=np.float64)
        self.slurred: Flags = np.array([note.attack is Attack.SLUR for note in kept.first], dtype=np.bool_)[self.sounds]
        self.slurred[:1] = False
        self.slurred[1:] &= self.starts[1:] == self.stops[:-1]
        self._set_ends([timeline.frames_in_ms(ATTACKS[note.attack].rise_ms) for note in kept.first])

    def _set_ends(self, rises: Sequence[int]) -> None:
        """How each note begins and ends; `rises` are the frames in which each sound would rise by itself."""
        half = (self.stops - self.starts) // 2
        over = np.where(self.slurred, np.minimum(half, self.timeline.frames_in_ms(SLUR_MS)), 0)
        alone = np.minimum(np.array(rises, dtype=np.int64)[self.sounds], half)
        self.tails: Counts = np.append(over[1:], 0)[: len(self)]
        self.rises = np.where(self.slurred, over, alone).astype(np.int32)
        falls = np.where(self.tails, self.tails, np.minimum(half, self.timeline.frames_in_ms(RELEASE_MS)))
        self.falls = falls.astype(np.int32)
        self.places = self._places(over)

    def __len__(self) -> int:
        return len(self.starts)

    def note(self, number: int) -> SoloNote:
        """The note itself."""
        return self._notes[int(self._numbers[number])]

    def _places(self, over: Counts) -> Counts:
        """Where in its tone each note starts."""
        places = np.zeros(len(self), dtype=np.int64)
        rate_hz = self.timeline.rate_hz
        for number in np.flatnonzero(self.slurred):
            before, hz = (float(self.hz[self.sounds[each]]) for each in (number - 1, number))
            reached = int(places[number - 1] + self.stops[number - 1] - self.starts[number - 1])
            half = int(over[number]) / 2
            turns = ((reached + half) * before - half * hz) / rate_hz
            places[number] = reached if before == hz else round(turns % 1.0 * rate_hz / hz)
        return places
