"""Lay the solo's notes out in frames, with the pitch gliding over at every slur.

Rule    one note sounds at a time: a note ends where the next begins, if not before. A slurred note goes on in
        the phase of the note it is slurred from, and its pitch gets there along half a cosine. With the
        glide from f to g over G frames, n frames in, the turns since the note's start are
            (f n + (g - f) (n / 2 - G / (2 pi) sin(pi n / G))) / rate      n up to G
            (g n + (f - g) / 2 G) / rate                                   after it
        so a phase is a sum over the notes of one slur, never over samples.
Units   frames; hz in hertz; phases in turns.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from droner.score.score import Attack, Bar, SoloNote
from droner.sound.guide_table import ATTACKS, GLIDE_MS, RELEASE_MS
from droner.sound.timeline import Timeline
from droner.sound.voice import Amounts


@dataclass(frozen=True, slots=True)
class Glide:
    """How the pitch of one note runs: from `from_hz` to `hz` in `frames`, from phase `turns` on."""

    hz: float
    from_hz: float
    frames: int
    turns: float
    rate_hz: int

    @property
    def settled_turns(self) -> float:
        """What the phase is ahead of that of a tone at `hz` from the start of the note, once the glide is over."""
        return self.turns + (self.from_hz - self.hz) / 2 * self.frames / self.rate_hz

    def turns_after(self, frames: int) -> float:
        """The phase so many frames after the start of the note, when the glide is over."""
        return frames * self.hz / self.rate_hz + self.settled_turns

    def turns_gliding(self, frames: Amounts) -> Amounts:
        """The phase so many frames after the start of the note, while it glides."""
        bend = frames / 2 - self.frames / (2 * np.pi) * np.sin(np.pi * frames / self.frames)
        gliding: Amounts = self.turns + (self.from_hz * frames + (self.hz - self.from_hz) * bend) / self.rate_hz
        return gliding


class GuideLine:
    """The notes that sound, in order, as columns: start, stop, phase at the start, slurred or not."""

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
        self._turns = self._phases()

    def _phases(self) -> Amounts:
        """The phase in which each note starts: 0, or where the note before it ended."""
        turns = np.zeros(len(self.notes))
        for number in np.flatnonzero(self.slurred):
            before = self._glide(int(number) - 1, float(turns[number - 1]))
            turns[number] = before.turns_after(self.length(int(number) - 1)) % 1.0
        return turns

    def _glide(self, number: int, turns: float) -> Glide:
        slurred = bool(self.slurred[number])
        return Glide(
            hz=self.notes[number].hz,
            from_hz=self.notes[number - 1].hz if slurred else self.notes[number].hz,
            frames=self.glide_frames(number) if slurred else 0,
            turns=turns,
            rate_hz=self.timeline.rate_hz,
        )

    def glide(self, number: int) -> Glide:
        """How the pitch of a note runs."""
        return self._glide(number, float(self._turns[number]))

    def length(self, number: int) -> int:
        """The frames that a note sounds."""
        return int(self.stops[number] - self.starts[number])

    def glide_frames(self, number: int) -> int:
        """The frames that a slur into this note takes."""
        return min(self.timeline.frames_in_ms(GLIDE_MS), self.length(number) // 2)

    def rise(self, number: int) -> int:
        """The frames in which a note reaches its loudness; none under a slur."""
        if self.slurred[number]:
            return 0
        rise_ms = ATTACKS[self.notes[number].attack].rise_ms
        return min(self.timeline.frames_in_ms(rise_ms), self.length(number) // 2)

    def fall(self, number: int) -> int:
        """The frames in which a note dies away; none when the next is slurred from it."""
        if number + 1 < len(self.notes) and self.slurred[number + 1]:
            return 0
        return min(self.timeline.frames_in_ms(RELEASE_MS), self.length(number) // 2)
