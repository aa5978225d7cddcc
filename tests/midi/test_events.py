"""Referee: the order of messages that MIDI 1.0 needs (a setting before what it sets), and General MIDI's RPN 0."""

from __future__ import annotations

import subprocess
import sys
from fractions import Fraction

import pytest

from droner.midi.balance import Balance, Level
from droner.midi.channel_table import Part
from droner.midi.events import music, setting, timed_messages
from droner.midi.message import Kind, TimedMessage
from droner.midi.smf_file import smf_bytes
from droner.score.score import Score
from tests.midi.scores import chord, click, note, score, tone

PITCHED = [channel for channel in range(1, 17) if channel != 10]
# MIDI 1.0: RPN 0 (101, 100), two semitones (6) and no cents (38), then the null parameter.
BEND_RANGE = [(101, 0), (100, 0), (6, 2), (38, 0), (101, 127), (100, 127)]
VOLUME, PAN, REVERB, CHORUS = 7, 10, 91, 93
TURNS = [{Kind.NOTE_OFF}, {Kind.CONTROL, Kind.BEND}, {Kind.PROGRAM}, {Kind.NOTE_ON}]


def full_score() -> Score:
    """Every part, with things falling on the same moment."""
    swell = ((Fraction(0), 40), (Fraction(1), 90))
    return score(
        8,
        drone=[tone(0, 4, "D3", 146.0), tone(0, 4, "A3", 219.0), tone(4, 4, "E3", 164.0)],
        changes=[chord(0, 4, {"D4": 293.0, "F#4": 366.0}), chord(4, 4, {"C#4": 276.0, "E4": 329.0})],
        clicks=[click(beat) for beat in range(8)],
        solo=[note(beat, 1, "A5", hz=870.0 + beat, shape=swell if beat % 2 else ()) for beat in range(8)],
    )


def turn(message: TimedMessage) -> int:
    return next(place for place, kinds in enumerate(TURNS) if message.kind in kinds)


def controls(messages: tuple[TimedMessage, ...], channel: int) -> list[tuple[int, ...]]:
    return [m.data for m in messages if m.channel == channel and m.kind is Kind.CONTROL]


def test_at_one_moment_notes_end_then_things_are_set_then_notes_begin() -> None:
    messages = timed_messages(full_score())
    places = [(message.moment.exact, turn(message)) for message in messages]
    assert places == sorted(places)
    at_four = {turn(message) for message in messages if message.moment.exact == 4}
    assert at_four == {0, 1, 3}


@pytest.mark.parametrize("channel", PITCHED)
def test_each_pitched_channel_learns_the_bend_range_before_any_note(channel: int) -> None:
    messages = timed_messages(full_score())
    first_note = next(place for place, message in enumerate(messages) if message.kind is Kind.NOTE_ON)
    sent = controls(messages[:first_note], channel)
    start = sent.index(BEND_RANGE[0])
    assert sent[start : start + 6] == BEND_RANGE


def test_the_percussion_channel_is_not_bent() -> None:
    kinds = {message.kind for message in timed_messages(full_score()) if message.channel == 10}
    assert kinds == {Kind.CONTROL, Kind.NOTE_ON, Kind.NOTE_OFF}


def test_a_drone_has_neither_chorus_nor_reverb() -> None:
    for message in setting(full_score()):
        if message.part in (Part.DRONE, Part.CHANGES):
            assert {(REVERB, 0), (CHORUS, 0)} <= set(controls(setting(full_score()), message.channel))


def test_the_balance_is_volume_and_pan() -> None:
    balance = Balance(solo=Level(100, 64), drone=Level(55, 0), changes=Level(44, 127), click=Level(33, 96))
    messages = setting(full_score(), balance)
    asked = {3: (55, 0), 7: (44, 127), 10: (33, 96), 1: (100, 64)}
    for channel, (volume, pan) in asked.items():
        assert {(VOLUME, volume), (PAN, pan)} <= set(controls(messages, channel))


@pytest.mark.parametrize("level", [(-1, 64), (128, 64), (100, 128)])
def test_a_level_beyond_the_controller_is_our_mistake(level: tuple[int, int]) -> None:
    with pytest.raises(ValueError, match="from 0 to 127"):
        Level(*level)


def test_every_data_byte_is_seven_bits() -> None:
    assert all(max(message.wire[1:]) < 0x80 <= message.wire[0] for message in timed_messages(full_score()))


def test_the_same_score_gives_the_same_list_and_the_same_bytes() -> None:
    assert timed_messages(full_score()) == timed_messages(full_score())
    assert smf_bytes(full_score()) == smf_bytes(full_score())


def test_a_note_outside_the_score_is_our_mistake() -> None:
    with pytest.raises(ValueError, match="outside its 2 beats"):
        music(score(2, drone=[tone(0, 3, "D3")]))


def test_a_note_without_length_is_our_mistake() -> None:
    with pytest.raises(ValueError, match="has no length"):
        music(score(2, drone=[tone(1, 0, "D3")]))


def test_the_list_is_made_without_mido() -> None:
    program = "import sys, droner.midi.events, droner.midi.conductor; sys.exit('mido' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0
