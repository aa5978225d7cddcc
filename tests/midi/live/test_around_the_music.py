"""What surrounds the music: closing, the place for a screen, Python kept quiet, idle moments, Ctrl-Z.

Referees  an instrument by MIDI 1.0; Python's own garbage collector and thread switch; POSIX job control.
"""

from __future__ import annotations

import gc
import os
import signal
import subprocess
import sys
from fractions import Fraction

import pytest

from droner.live.words import Place
from droner.midi.live.moments import piece
from droner.midi.live.player import Player
from tests.midi.live.fakes import Instrument
from tests.midi.live.jack import REPOSITORY
from tests.midi.live.music import D3_HZ, drone_piece, item
from tests.midi.live.room import Room
from tests.midi.scores import click, score

MILLISECOND_NS = 1_000_000
ALL_NOTES_OFF = (3, 123)
"""Channel 3 of the drone, controller 123 (MIDI 1.0)."""
PLAY_TO_STDOUT = """
import os
from queue import SimpleQueue
from droner.midi.live.player import Player
from tests.midi.live.music import D3_HZ, drone_piece
Player(lambda wire: os.write(1, bytes((len(wire),)) + wire)).play(drone_piece(D3_HZ), SimpleQueue())
"""


def test_closing_hushes_and_waits(room: Room) -> None:
    with room.player as player:
        player.play(drone_piece(D3_HZ, 2), room.asked)
        before_ns = room.clock.ns
    assert room.clock.ns - before_ns >= 2 * 45 * MILLISECOND_NS
    # all notes off on the drone's two channels, the last time of saying it
    assert room.instrument.wires[-2:] == [bytes.fromhex("B2 7B 00"), bytes.fromhex("B3 7B 00")]


def test_the_place_is_told_in_bars_and_beats(room: Room) -> None:
    places: list[Place | None] = []
    for second in (0.7, 2.7):
        room.at(second, lambda: places.append(room.player.place))
    room.player.play(piece(item(8)), room.asked)
    # Half a second a beat, then 0.45 s; 4/4: beat 1 is the second of bar 1; beat 5 the second of bar 2.
    assert [(place.bar, place.beat) for place in places if place] == [(1, 2), (2, 2)]
    assert room.player.place is None


def test_python_is_undisturbed_while_it_plays_and_as_before_afterwards(room: Room) -> None:
    switch_s = sys.getswitchinterval()
    seen: list[tuple[bool, bool, bool]] = []
    room.at(1, lambda: seen.append((gc.isenabled(), gc.get_freeze_count() > 0, sys.getswitchinterval() < switch_s)))
    room.player.play(drone_piece(D3_HZ, 2), room.asked)
    assert seen == [(False, True, True)]
    assert (gc.isenabled(), gc.get_freeze_count(), sys.getswitchinterval()) == (True, 0, switch_s)


def test_idle_is_called_only_when_there_is_time(room: Room) -> None:
    left: list[int] = []
    made = piece(score(2, clicks=[click(Fraction(place, 8)) for place in range(16)]))
    player = Player(room.instrument.hear, room.clock, idle=lambda: left.append(room.clock.ns))
    player.play(made, room.asked)
    onsets = room.onsets_ns()
    assert len(left) > 100, "ten milliseconds apart at most, over two seconds"
    assert all(abs(onset - called) > 4 * MILLISECOND_NS for onset in onsets for called in left if called < onset)


def hear_until(instrument: Instrument, record: int, *, sounding: bool) -> None:
    """Until something, or nothing, sounds."""
    while bool(instrument.sounding) is not sounding:
        instrument.hear(os.read(record, os.read(record, 1)[0]))


def _read(record: int, length: int) -> bytes:
    """What is there already; nothing, when nothing is."""
    try:
        return os.read(record, length)
    except BlockingIOError:
        return b""


@pytest.mark.skipif(not hasattr(signal, "SIGTSTP"), reason="this system has no job control")
def test_ctrl_z_stops_the_process_in_silence_and_it_stays_silent_when_it_goes_on() -> None:
    with subprocess.Popen(
        [sys.executable, "-c", PLAY_TO_STDOUT], cwd=REPOSITORY, stdout=subprocess.PIPE, process_group=0
    ) as process:
        assert process.stdout is not None
        record, instrument = process.stdout.fileno(), Instrument()
        hear_until(instrument, record, sounding=True)
        process.send_signal(signal.SIGTSTP)
        _, status = os.waitpid(process.pid, os.WUNTRACED)
        assert os.WIFSTOPPED(status)
        hear_until(instrument, record, sounding=False)
        assert ALL_NOTES_OFF not in instrument.controllers
        os.set_blocking(record, False)
        while length := _read(record, 1):
            instrument.hear(_read(record, length[0]))
        assert ALL_NOTES_OFF in instrument.controllers, "hushed before it stopped, not after"
        os.set_blocking(record, True)
        process.send_signal(signal.SIGCONT)
        process.send_signal(signal.SIGTERM)
        while length := os.read(record, 1):
            instrument.hear(os.read(record, length[0]))
        assert process.wait() == -signal.SIGTERM
    assert len(instrument.struck) == 2, "the drone and its fifth, not struck again"
    assert not instrument.sounding
