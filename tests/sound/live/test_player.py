"""On a loudspeaker that keeps every sample. Referees: the audio file, read by libsndfile; the theorems of fades."""

from __future__ import annotations

import time
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from threading import Timer

import numpy as np
import pytest
from soundfile import SoundFile

from droner.live.words import Act, ChangeTo, Place, Seek
from droner.score.score import Bar
from droner.sound.audio_file import write_audio
from droner.sound.live.piece import piece
from droner.sound.mix import Mix
from droner.theory.meter import meter
from droner.units import Beats
from tests.sound.live.fakes import BLOCK_FRAMES, RATE_HZ
from tests.sound.live.room import CROSS, FADE, MONO, Room, Word, greatest_step, rendered, silences, steepest, trimmed
from tests.sound.live.sounding import EVERY_PART, day, drone
from tests.sound.measure import short_levels
from tests.sound.scores import click, score, tone

FULL_SCALE = 1 << 15
"""Of sixteen bits."""


@pytest.mark.parametrize("channels", [1, 2])
def test_the_samples_are_those_of_the_file(tmp_path: Path, channels: int) -> None:
    mix = EVERY_PART if channels == 2 else Mix(guide=True)
    room = Room(channels)
    ended = room.play(piece(day(), mix))
    write_audio(tmp_path / "day.wav", day(), mix)
    with SoundFile(tmp_path / "day.wav") as file:
        written = file.read(dtype="int16", always_2d=True)
    heard = np.rint(room.speaker.heard * FULL_SCALE).astype(np.int16)
    first = int(np.flatnonzero(heard.any(axis=1))[0]) - int(np.flatnonzero(written.any(axis=1))[0])
    assert np.array_equal(heard[first : first + len(written)], written)
    assert not heard[first + len(written) :].any()
    assert (ended.finished, ended.command, ended.at, ended.under_runs.late) == (True, None, Beats(5), 0)


def test_one_channel_is_heard_on_both_sides() -> None:
    room = Room(2)
    room.play(piece(drone(seconds=1), MONO))
    assert np.array_equal(room.heard[:, 0], room.heard[:, 1])
    assert np.array_equal(room.heard[:, :1], trimmed(rendered(piece(drone(seconds=1), MONO))))


def test_a_stop_fades(room: Room) -> None:
    made = piece(drone(), MONO)
    room.ask(2 * RATE_HZ, Word.ENOUGH)
    ended = room.play(made)
    whole, heard = trimmed(rendered(made)), room.heard
    kept = len(heard) - FADE
    assert np.array_equal(heard[:kept], whole[:kept])
    assert greatest_step(heard) < steepest(whole, FADE)
    assert (ended.finished, ended.command) == (False, Word.ENOUGH)
    assert float(ended.at) == pytest.approx(kept / RATE_HZ, abs=0.2)


def test_a_pause_is_silent_and_goes_on_where_it_was(room: Room) -> None:
    made = piece(drone(), MONO)
    places: list[Place | None] = []
    room.ask(RATE_HZ, Act.PAUSE)
    room.speaker.at(2 * RATE_HZ, lambda: places.append(room.player.place))
    room.ask(3 * RATE_HZ, Act.PAUSE)
    ended = room.play(made)
    whole, heard = trimmed(rendered(made)), room.heard
    [(silent, sounds)] = silences(heard)
    left_at = silent - FADE
    assert np.array_equal(heard[:left_at], whole[:left_at])
    assert np.array_equal(heard[sounds + FADE :], whole[left_at + FADE :])
    assert greatest_step(heard) < steepest(whole, FADE)
    assert ended.finished
    assert places[0] is not None
    assert places[0].paused
    assert float(places[0].moment) == pytest.approx(left_at / RATE_HZ, abs=0.001)


def test_seeking_goes_to_the_beat(room: Room) -> None:
    made = piece(drone(), MONO)
    room.ask(RATE_HZ, Seek(Beats(4)))
    ended = room.play(made)
    whole, heard = rendered(made), room.heard
    last = RATE_HZ - FADE
    assert np.array_equal(heard[-last:], trimmed(whole)[-last:]), "from beat 4 to the end, but for the fade"
    assert greatest_step(heard) < 2 * steepest(whole, FADE), "two waves, each with its fade"
    assert not silences(heard)
    assert ended.finished


def test_seeking_while_paused_stays_paused(room: Room) -> None:
    room.ask(RATE_HZ, Act.PAUSE)
    room.ask(2 * RATE_HZ, Seek(Beats(4)))
    room.ask(3 * RATE_HZ, Act.PAUSE)
    made = piece(drone(), MONO)
    room.play(made)
    [(_, sounds)] = silences(room.heard)
    last = RATE_HZ - FADE
    assert np.array_equal(room.heard[-last:], trimmed(rendered(made))[-last:])
    assert len(room.heard) - sounds == pytest.approx(RATE_HZ, abs=2), "all from beat 4, but a first sample near zero"


def test_a_piece_may_begin_in_the_middle(room: Room) -> None:
    made = piece(drone(), MONO)
    room.play(made, start=Beats(3))
    last = 2 * RATE_HZ - FADE
    assert np.array_equal(room.heard[-last:], trimmed(rendered(made))[-last:])
    assert len(room.heard) <= 2 * RATE_HZ


def test_another_piece_begins_under_the_end_of_the_one_before(room: Room) -> None:
    old, new = piece(drone(), MONO), piece(drone(("E3", "B3"), 2), MONO)
    room.ask(RATE_HZ, ChangeTo(new))
    ended = room.play(old)
    heard, whole = room.heard, trimmed(rendered(new))
    kept = len(whole) - CROSS
    assert np.array_equal(heard[-kept:], whole[-kept:]), "the new piece, from its beginning"
    assert greatest_step(heard) < steepest(rendered(old), CROSS) + steepest(rendered(new), CROSS)
    # half the level is 6 dB; two fades of which one is a raised cosine dip by less
    levels = short_levels(heard[RATE_HZ // 2 : -RATE_HZ // 2, 0].astype(np.float64), RATE_HZ // 50)
    assert levels.min() > levels.max() / 2
    assert ended.finished
    assert ended.at == Beats(2)


def test_the_place_is_told_in_bars_and_beats(room: Room) -> None:
    """A beat a second in 3/4: from second 4 to 5 it is the second beat of the second bar."""
    bars = tuple(Bar(number + 1, Beats(3 * number), meter("3/4")) for number in range(2))
    made = piece(replace(score(Beats(6), clicks=[click(beat) for beat in range(6)]), bars=bars), MONO)
    places: list[tuple[Place | None, int]] = []
    room.speaker.at(int(4.5 * RATE_HZ), lambda: places.append((room.player.place, room.player._ring.taken)))
    room.play(made)
    [(place, taken)] = places
    assert place is not None
    assert float(place.moment) == pytest.approx(taken / RATE_HZ, abs=2 * BLOCK_FRAMES / RATE_HZ)
    assert (place.bar, place.beat, place.paused) == (2, 2, False)
    assert room.player.place is None


def test_one_piece_after_another_on_one_loudspeaker(room: Room) -> None:
    first, second = piece(drone(seconds=1), MONO), piece(drone(("E3",), 1), MONO)
    with room.player as player:
        assert player.play(first, room.asked).finished
        assert player.play(second, room.asked).finished
    [(silent, sounds)] = silences(room.heard)
    assert np.array_equal(room.heard[:silent], trimmed(rendered(first)))
    assert np.array_equal(room.heard[sounds:], trimmed(rendered(second)))


def test_a_click_on_the_first_frame_is_whole(room: Room) -> None:
    old, new = (
        piece(score(Beats(2), drone=[tone(0, 2, "D3")]), MONO),
        piece(score(Beats(1), clicks=[click(0)]), MONO),
    )
    room.ask(RATE_HZ // 2, ChangeTo(new))
    room.play(old)
    heard = room.heard[:, 0]
    added = heard - trimmed(rendered(old))[: len(heard), 0]
    begins = int(np.flatnonzero(np.abs(added) > 0.01)[0])
    # a quarter of a millisecond, in which the drone has hardly begun to fade
    assert np.allclose(added[begins : begins + 12], rendered(new)[:12, 0], atol=0.002)


def test_the_end_of_a_piece_waits_until_it_is_heard() -> None:
    room = Room()
    room.speaker.latency_s = 0.3
    began = time.monotonic()
    ended = room.play(piece(drone(seconds=1), MONO))
    assert time.monotonic() - began >= 0.3
    assert ended.at == Beats(1)


def test_any_thread_may_ask(room: Room) -> None:
    timer = Timer(0.05, lambda: room.asked.put(Act.STOP))
    timer.start()
    ended = room.play(piece(drone(("D3",), 3600), MONO))
    timer.join()
    assert not ended.finished
    assert ended.at < Beats(Fraction(3600))
