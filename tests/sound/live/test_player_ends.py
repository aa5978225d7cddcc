"""When something goes wrong or the end is asked for: told, counted, and never a step in the sound.

Referees  the theorems of fades; what the source was made to do.
"""

from __future__ import annotations

import signal
import time
from collections.abc import Callable
from contextlib import nullcontext
from random import Random
from threading import Timer

import numpy as np
import pytest

from droner.errors import MachineError
from droner.live.noted_signals import Noted
from droner.live.words import Act
from droner.sound.live.piece import piece
from droner.sound.render import BLOCK_FRAMES as BLOCK_OF_A_FILE
from droner.sound.voice import Samples
from tests.sound.live.fakes import BLOCK_FRAMES, RATE_HZ
from tests.sound.live.room import FADE, MONO, Room, greatest_step, rendered, silences, steepest, trimmed
from tests.sound.live.sounding import drone

OFTEN_S = (0.0036, 0.0038)
"""So that signals fall now into the beginning and now into the very end of the 5 ms that a player waits."""
HELD_UP_S = 15.0


def test_samples_that_come_too_late_are_counted(room: Room) -> None:
    """The source makes its second block only when the loudspeaker has been silent for a while."""
    made = piece(drone(), MONO)
    silent, waiting = 100 * BLOCK_FRAMES, [False]

    class Slow:
        title, frames = made.title, made.frames
        beats_at, frame_at, bar_at = made.beats_at, made.frame_at, made.bar_at

        @staticmethod
        def block(start: int, frames: int) -> Samples:
            waiting[0] = start == BLOCK_OF_A_FILE
            while waiting[0] and room.speaker.frames < start + silent:
                time.sleep(0.001)
            waiting[0] = False
            return made.block(start, frames)

    patient = room.speaker.wait_for
    room.speaker.wait_for = lambda: patient() or waiting[0]
    ended = room.play(Slow())
    whole, heard = trimmed(rendered(made)), room.heard
    assert ended.under_runs.late == 1
    lost = len(heard) - len(whole)
    assert lost == pytest.approx(ended.under_runs.silent_ms * RATE_HZ / 1000, abs=1), "silence, and nothing left out"
    assert np.array_equal(heard[-RATE_HZ:], whole[-RATE_HZ:])


class BrokenError(Exception):
    """Something in the caller's own code."""


def test_an_exception_fades_and_comes_through(room: Room) -> None:
    def break_off(_: object) -> Act:
        raise BrokenError

    made = piece(drone(), MONO)
    room.ask(RATE_HZ, "anything")
    with pytest.raises(BrokenError):
        room.play(made, break_off)
    assert len(room.heard) < 2 * RATE_HZ
    assert greatest_step(room.heard) < steepest(rendered(made), FADE)
    assert room.player.place is None


def test_a_fault_in_the_making_comes_through_too(room: Room) -> None:
    made = piece(drone(), MONO)

    class Broken:
        title, frames = made.title, made.frames
        beats_at, frame_at, bar_at = made.beats_at, made.frame_at, made.bar_at

        @staticmethod
        def block(start: int, frames: int) -> Samples:
            if start:
                raise BrokenError
            return made.block(start, frames)

    room.speaker.wait_for = lambda: True
    with pytest.raises(BrokenError):
        room.play(Broken())
    assert greatest_step(room.heard) < steepest(rendered(made), FADE)


def test_a_loudspeaker_that_goes_away_is_a_machine_error(room: Room) -> None:
    def vanish() -> None:
        room.speaker.failure = "the audio output invented has gone away"

    room.speaker.at(RATE_HZ, vanish)
    began = time.monotonic()
    with pytest.raises(MachineError, match="invented has gone away"):
        room.play(piece(drone(("D3",), 3600), MONO))
    assert time.monotonic() - began < 10, "and no hang"


class Paper(Noted):
    """Signals noted by hand."""

    def __init__(self) -> None:
        super().__init__()
        self.slept: list[bool] = []
        self.is_silent: Callable[[], bool] = lambda: False

    def sleep_now(self) -> None:
        self.sleeping = False
        self.slept.append(self.is_silent())


def test_a_noted_signal_ends_in_silence() -> None:
    paper = Paper()
    room = Room(noted_signals=lambda: nullcontext(paper))
    room.speaker.at(RATE_HZ, lambda: setattr(paper, "ending", 15))
    made = piece(drone(), MONO)
    ended = room.play(made)
    assert (ended.finished, ended.command) == (False, None)
    assert greatest_step(room.heard) < steepest(rendered(made), FADE)


def test_a_sleep_is_silent_and_paused_afterwards() -> None:
    paper = Paper()
    room = Room(noted_signals=lambda: nullcontext(paper))
    paper.is_silent = lambda: not room.speaker._running and not room.speaker.heard[-1].any()
    room.speaker.at(RATE_HZ, lambda: setattr(paper, "sleeping", True))
    room.ask(3 * RATE_HZ, Act.PAUSE)
    made = piece(drone(), MONO)
    ended = room.play(made)
    assert paper.slept == [True]
    assert room.speaker.opened == 2
    assert len(silences(room.heard)) == 1
    assert ended.finished


@pytest.mark.skipif(not hasattr(signal, "setitimer"), reason="Windows has no interval timers")
def test_signals_that_come_all_the_time_hold_nothing_up() -> None:
    """Python's own `SimpleQueue.get` with a limit was seen to wait for ever when a signal fell into its end."""
    paper = Paper()
    room = Room(noted_signals=lambda: nullcontext(paper))
    chance = Random(1)

    def again(*_: object) -> None:
        signal.setitimer(signal.ITIMER_REAL, chance.uniform(*OFTEN_S))

    usual = signal.signal(signal.SIGALRM, again)
    enough = Timer(HELD_UP_S, lambda: room.asked.put(Act.STOP))
    room.speaker.at(20 * RATE_HZ, lambda: setattr(paper, "ending", int(signal.SIGTERM)))
    again()
    enough.start()
    began = time.monotonic()
    try:
        ended = room.play(piece(drone(("D3",), 3600), MONO))
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, usual)
        enough.cancel()
    assert (ended.finished, ended.command) == (False, None)
    assert time.monotonic() - began < HELD_UP_S
