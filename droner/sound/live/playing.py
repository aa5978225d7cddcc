"""Play one piece from its first sample to its end, and do what is asked on the way.

Rule    the samples are made ahead and taken by the loudspeaker; here only changes are made, at the next sample that
        is not taken yet. A pause and a stop fade out what is ready, so they wait for nothing. A place in the middle is
        come into with a fade, the beginning of a piece without one. Another piece begins under the end of the one
        before. What has no end goes over to another of its kind in step, some milliseconds later.
        Every few milliseconds the signals, the commands, the loudspeaker and the caller's `idle` are looked after. The
        queue is never waited for: in Python 3.11 a signal that falls into the last microseconds of such a wait makes it
        one without end (`SimpleQueue.get` goes on with a time below zero; seen once, in some hundred signals).
Units   frames of the ring, and of the source; beats of the piece; seconds.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass
from queue import Empty
from typing import Any

import numpy as np

from droner.errors import MachineError
from droner.live.noted_signals import Noted
from droner.live.words import Act, Asked, ChangeTo, Deed, Obey, Place, Seek
from droner.sound.fade import fade_in
from droner.sound.live.ended import Ended, UnderRuns
from droner.sound.live.feeder import MOST_FRAMES, Feeder
from droner.sound.live.loudspeaker import Heard, Loudspeaker
from droner.sound.live.ring import Ring
from droner.sound.live.source import Endless, Reader, Source
from droner.sound.voice import Samples
from droner.units import Beats

LOOK_S = 0.005
FADE_MS = 30
"""A pause, a stop, and coming in again. Our choice: no click, and silence well within 50 ms."""
CROSS_MS = 50
"""From one piece to another. Our choice, near the drone's own fade."""
IN_STEP_MS = (25, 100)
"""How long before its moment a change in step begins to be made; the second try, if the first came too late."""

SILENT_WITHIN_S = 0.5
"""Nobody waits longer for the fade to be heard."""


@dataclass(frozen=True, slots=True)
class Means:
    """What a piece is played with."""

    ring: Ring
    feeder: Feeder
    speaker: Loudspeaker
    heard: Heard
    idle: Callable[[], None] | None

    def frames_in_ms(self, length_ms: int) -> int:
        """So many milliseconds in whole frames."""
        return length_ms * self.speaker.rate_hz // 1000

    def hush(self) -> int:
        """Fade out what sounds; the frame at which that begins."""
        nothing: Samples = np.zeros((0, self.ring.channels), dtype=np.float32)
        return self.ring.cross(nothing, self.frames_in_ms(FADE_MS), last=True)


@dataclass(slots=True)
class Run:
    """A source on its way: its frame 0 is, or was, or would have been, frame `begins` of the ring."""

    reader: Reader
    begins: int
    paused_at: int | None = None

    @property
    def source(self) -> Source:
        """What is played."""
        return self.reader.source

    def place_at(self, ring_frame: int) -> Place:
        """The place when a frame of the ring is heard."""
        frame = max(ring_frame - self.begins, 0) if self.paused_at is None else self.paused_at
        end = self.source.frames
        moment = self.source.beats_at(frame if end is None else min(frame, end))
        return Place(moment, *self.source.bar_at(moment), self.paused_at is not None)


class Playing:
    """One piece on its way; `run` keeps its place."""

    def __init__(self, means: Means, noted: Noted, asked: Asked, obey: Obey) -> None:
        self.run: Run | None = None
        self._means, self._noted, self._asked, self._obey = means, noted, asked, obey
        self._before = self._counted()

    def to_the_end(self, source: Source, start: Beats) -> Ended:
        """Play. What sounds when it ends, or when something is raised, still sounds: see `Player`."""
        run = self._come_in(Reader(source, self._means.ring.channels), source.frame_at(start), FADE_MS)
        while True:
            self._raise_failure()
            if self._noted.ending is not None:
                return self._ended(run)
            if self._noted.sleeping:
                self._sleep(run)
            if run.paused_at is None and self._means.heard.is_silent:
                return self._ended(run, finished=True)
            outcome = self._heed(run)
            if isinstance(outcome, Ended):
                return outcome
            run = outcome

    def _raise_failure(self) -> None:
        failure, self._means.feeder.failure = self._means.feeder.failure, None
        if failure is not None:
            raise failure
        if self._means.speaker.failure:
            raise MachineError(self._means.speaker.failure)

    def _heed(self, run: Run) -> Run | Ended:
        """Wait a little for something to be asked, and do it."""
        if self._means.idle:
            self._means.idle()
        try:
            asked = self._asked.get_nowait()
        except Empty:
            time.sleep(LOOK_S)
            return run
        if isinstance(asked, Act | Seek | ChangeTo):
            return self._do(run, asked, None)
        return self._do(run, self._obey(asked), asked)

    def _do(self, run: Run, deed: Deed, command: Any) -> Run | Ended:
        if isinstance(deed, Seek):
            return self._seek(run, deed.to)
        if isinstance(deed, ChangeTo):
            return self._change(run, deed.piece)
        if deed is Act.STOP:
            return self._ended(run, command=command)
        if deed is Act.GO_ON:
            return run
        return self._pause(run) if run.paused_at is None else self._come_in(run.reader, run.paused_at, FADE_MS)

    def _come_in(self, reader: Reader, at: int, fade_ms: int) -> Run:
        ring, fade_frames = self._means.ring, self._means.frames_in_ms(fade_ms)
        block = reader.read_all(at, MOST_FRAMES)
        if at:
            shape = fade_in(fade_frames, joined=bool(ring.ready))[: len(block), np.newaxis]
            block[: len(shape)] *= shape
        begins = ring.cross(block, fade_frames, last=reader.left(at) == len(block)) - at
        self._means.feeder.feed(reader, at + len(block), ring.turn)
        self.run = Run(reader, begins)
        return self.run

    def _pause(self, run: Run) -> Run:
        run.paused_at = self._means.hush() - run.begins
        return run

    def _seek(self, run: Run, to: Beats) -> Run:
        last, frame = run.source.frames, max(run.source.frame_at(to), 0)
        frame = frame if last is None else min(frame, last)
        if run.paused_at is not None:
            run.paused_at = frame
            return run
        return self._come_in(run.reader, frame, FADE_MS)

    def _change(self, run: Run, new: Source) -> Run:
        if run.paused_at is None and isinstance(new, Endless):
            for ahead_ms in IN_STEP_MS:
                if self._goes_over(run, new, self._means.frames_in_ms(ahead_ms)):
                    return run
        return self._come_in(Reader(new, self._means.ring.channels), 0, CROSS_MS)

    def _goes_over(self, run: Run, new: Endless, ahead: int) -> bool:
        """Let what has no end go over to another of its kind in step; False if it is not, or came too late."""
        ring = self._means.ring
        now = ring.taken - run.begins
        taken_up = new.after(run.source, now + ahead)
        if taken_up is None:
            return False
        reader = Reader(taken_up, ring.channels)
        at = min(taken_up.since, now + ring.ready)
        block = reader.read_all(at, MOST_FRAMES)
        if not ring.join(run.begins + at, block):
            return False
        run.reader = reader
        self._means.feeder.feed(reader, at + len(block), ring.turn)
        return True

    def _sleep(self, run: Run) -> None:
        """Ctrl-Z: be silent first, and stay paused when the process goes on."""
        if run.paused_at is None:
            self._pause(run)
        wait_for_silence(self._means)
        self._means.speaker.close()
        self._noted.sleep_now()
        self._means.speaker.open_again()

    def _ended(self, run: Run, *, finished: bool = False, command: Any = None) -> Ended:
        place = run.place_at(self._means.heard.frame)
        return Ended(finished, command, place.moment, self._under_runs())

    def _counted(self) -> tuple[int, int, int]:
        return self._means.ring.gaps, self._means.ring.gap_frames, self._means.speaker.lost

    def _under_runs(self) -> UnderRuns:
        late, silent, lost = (now - then for now, then in zip(self._counted(), self._before, strict=True))
        return UnderRuns(late, 1000 * silent / self._means.speaker.rate_hz, lost)


def wait_for_silence(means: Means) -> None:
    """Until all there was has been heard; not longer than a moment, if the loudspeaker is gone."""
    until = time.monotonic() + SILENT_WITHIN_S + means.speaker.latency_s
    while not means.heard.is_silent and not means.speaker.failure and time.monotonic() < until:
        time.sleep(LOOK_S)
