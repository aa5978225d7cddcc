"""The demonstration of beats holds still what shall be still, and moves the note by what it says.

Referee  the cent (1200 to an octave) and just ratios, by arithmetic; superposition: partials beat deepest when alike.
"""

from __future__ import annotations

from math import log2

import pytest

from droner.score.beat_demo import ALONE_SECONDS, beat_demo, can_beat, held_seconds, pair_name, rates
from droner.score.score import Score
from droner.theory.beats import DegreeBeats, beats_against
from droner.theory.pitch import pitch
from droner.theory.tuning import tuning
from droner.units import Beats

FLOAT_SLACK = 1e-9
LEVEL = (0.0,) * 12
"""Invented: twelve partials, all alike."""
FALLING = tuple(-2.0 * number for number in range(12))
"""Invented: each two decibels below the one before it."""


def row_of(drone: str, note: str) -> DegreeBeats:
    return beats_against(pitch(drone), pitch(note), tuning(440, "just", pitch(drone).name))


def demo(drone: str, note: str, partials_db: tuple[float, ...] = LEVEL) -> Score:
    return beat_demo(row_of(drone, note), tuning(440, "just", pitch(drone).name), partials_db)


def test_the_note_is_in_tune_then_five_cents_flat_then_five_sharp() -> None:
    still, *notes = demo("D3", "F#3").drone
    off = [1200 * log2(note.hz / (still.hz * 5 / 4)) for note in notes]
    assert off == pytest.approx([0, -5, 5], abs=FLOAT_SLACK)
    assert [marker.text for marker in demo("D3", "F#3").markers] == ["in tune", "5 cents flat", "5 cents sharp"]


@pytest.mark.parametrize(("drone", "note"), [("D3", "F#3"), ("D5", "A4"), ("C1", "C1"), ("A6", "E7")])
def test_the_drone_sounds_throughout_and_alone_before_every_note(drone: str, note: str) -> None:
    score = demo(drone, note)
    still, *notes = score.drone
    assert (still.onset, still.length) == (Beats(0), score.length)
    before = Beats(0)
    for tone in notes:
        assert tone.onset - before == Beats(ALONE_SECONDS)
        before = tone.onset + tone.length
    assert before == score.length
    assert [marker.onset for marker in score.markers] == [tone.onset for tone in notes]


def test_slow_beats_are_given_time() -> None:
    # a unison on D3 beats 146.83 x (2^(5/1200) - 1) = 0.42 times a second five cents off: three take seven seconds
    assert rates(row_of("D3", "D3"))[2] == pytest.approx(0.4247, abs=1e-4)
    assert held_seconds(row_of("D3", "D3")) == 8
    assert held_seconds(row_of("C1", "C1")) == 10
    assert held_seconds(row_of("D5", "F#5")) == 4


def test_the_partials_that_meet_are_made_alike() -> None:
    # F#5 over D3: the drone's fifth partial, 8 dB below its first, meets the note's first
    still, *notes = demo("D3", "F#5", FALLING).drone
    assert (still.gain_db, {note.gain_db for note in notes}) == (0, {-8.0})
    # D3 under D5: the drone's first meets the note's fourth, 6 dB below its first
    still, *notes = demo("D5", "D3", FALLING).drone
    assert (still.gain_db, {note.gain_db for note in notes}) == (-6.0, {0.0})


def test_where_partials_are_missing_no_beats_are_promised() -> None:
    assert not can_beat(row_of("D3", "G#3"), LEVEL)  # 45 and 32
    assert not can_beat(row_of("C8", "E8"), LEVEL)  # the fifth partial of 4186 Hz lies at 20.9 kHz
    assert can_beat(row_of("D3", "F#3"), LEVEL)


@pytest.mark.parametrize(("note", "name"), [("F#4", "F#4 over D4"), ("A3", "A3 under D4"), ("D4", "D4 with D4")])
def test_a_pair_is_named_by_what_sounds(note: str, name: str) -> None:
    assert pair_name(row_of("D4", note)) == demo("D4", note).title == name
