"""Referees: the General MIDI law 40 log10(value/127) dB of velocity and expression (from memory), and counting."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from math import log10

import pytest

from droner.midi.events import music
from droner.midi.loudness import DIP_DB
from droner.midi.message import Kind, TimedMessage
from droner.score.score import Attack, Bar, Score, SoloNote
from tests.midi.scores import bars, note, score

EXPRESSION = 11
ROUNDING_DB = 0.6
"""What whole controller values of 30 and more may miss: 40 log10(30.5/30)= 0.29 dB, twice for two roundings."""
SWELL = ((Fraction(0), 40), (Fraction(1, 2), 100), (Fraction(1), 60))
HALF = Fraction(1, 2)


def played(*notes: SoloNote, length: int = 8, written: tuple[Bar, ...] = ()) -> tuple[TimedMessage, ...]:
    made: Score = score(length, solo=notes, bars=written)
    return music(made)


def ons(messages: tuple[TimedMessage, ...]) -> list[TimedMessage]:
    return [message for message in messages if message.kind is Kind.NOTE_ON]


def offs(messages: tuple[TimedMessage, ...]) -> list[TimedMessage]:
    return [message for message in messages if message.kind is Kind.NOTE_OFF]


def expression(messages: tuple[TimedMessage, ...], channel: int = 1) -> list[tuple[Fraction, int]]:
    return [
        (message.moment.exact, message.data[1])
        for message in messages
        if message.kind is Kind.CONTROL and message.data[0] == EXPRESSION and message.channel == channel
    ]


def level_db(value: float) -> float:
    return 40 * log10(value / 127)


def test_a_short_note_sounds_for_its_part_of_the_length() -> None:
    messages = played(note(1, 1, sounded=HALF), note(2, 1, sounded=HALF))
    assert [message.moment.exact for message in ons(messages)] == [1, 2]
    assert [message.moment.exact for message in offs(messages)] == [1 + HALF, 2 + HALF]


def test_a_slur_has_no_gap_and_no_overlap() -> None:
    messages = played(note(0, 1, "D5"), note(1, 1, "E5", attack=Attack.SLUR))
    assert offs(messages)[0].moment == ons(messages)[1].moment
    assert offs(messages)[0].channel != ons(messages)[1].channel


@pytest.mark.parametrize(("velocity", "struck"), [(80, 100), (107, 127), (120, 127), (127, 127)])
def test_an_accent_is_struck_twenty_harder_up_to_127(velocity: int, struck: int) -> None:
    assert ons(played(note(0, 1, velocity=velocity, accent=True)))[0].data[1] == struck


def test_a_level_note_needs_no_expression() -> None:
    assert expression(played(note(0, 4, velocity=64))) == []


def test_a_swell_sounds_as_loud_as_the_velocities_of_its_shape() -> None:
    messages = played(note(0, 4, velocity=40, shape=SWELL))
    struck = ons(messages)[0].data[1]
    steps = expression(messages)
    for place, velocity in SWELL:
        value = [value for moment, value in steps if moment <= place * 4 and moment < 4][-1]
        expected_db = level_db(velocity)
        assert abs(level_db(struck) + level_db(value) - expected_db) < ROUNDING_DB


def test_a_swell_rises_to_its_crest_and_falls_in_small_steps() -> None:
    values = [value for _, value in expression(played(note(0, 4, velocity=40, shape=SWELL)))][:-1]
    crest = values.index(max(values))
    assert max(values) == 127
    assert values[: crest + 1] == sorted(values[: crest + 1])
    assert values[crest:] == sorted(values[crest:], reverse=True)
    assert max(abs(after - before) for before, after in pairwise(values)) <= 3


def test_a_note_cut_to_half_has_the_first_half_of_its_shape() -> None:
    steps = expression(played(note(0, 4, sounded=2, velocity=40, shape=SWELL)))
    whole = expression(played(note(0, 4, velocity=40, shape=SWELL)))
    assert [step for step in steps if step[0] < 2] == [step for step in whole if step[0] < 2]
    assert steps[-1] == (Fraction(8), 127)
    assert not [step for step in steps if 2 <= step[0] < 8]


def test_a_shape_that_starts_late_holds_the_velocity_until_then() -> None:
    messages = played(note(0, 4, velocity=50, shape=((HALF, 50), (Fraction(3, 4), 100))))
    steps = expression(messages)
    assert steps[0][0] == 0
    assert 2 < steps[1][0] < Fraction(21, 10)
    assert [value for moment, value in steps if moment <= 3][-1] == 127


def test_expression_stays_for_the_release_and_is_full_again_for_the_next_note_on_the_channel() -> None:
    fading = ((Fraction(0), 100), (Fraction(1), 40))
    messages = played(note(0, 1, velocity=100, shape=fading), note(1, 1), note(2, 1))
    steps = expression(messages)
    assert not [value for moment, value in steps if 1 <= moment < 2]
    assert steps[-1] == (Fraction(2), 127)
    places = [m.kind for m in messages if m.moment.exact == 2 and m.channel == 1]
    assert places == [Kind.CONTROL, Kind.NOTE_ON]


def test_expression_is_full_at_the_end_of_the_score() -> None:
    fading = ((Fraction(0), 100), (Fraction(1), 40))
    assert expression(played(note(0, 1, velocity=100, shape=fading)))[-1] == (Fraction(8), 127)


@pytest.mark.parametrize("pulses", range(1, 9))
@pytest.mark.parametrize(("meter", "beat"), [("4/4", Fraction(1)), ("6/8", Fraction(3, 2))])
def test_pulses_are_counted_in_the_beat_of_the_meter(pulses: int, meter: str, beat: Fraction) -> None:
    beats = 2
    messages = played(note(0, beats * beat, pulses=pulses), written=bars(meter, meter))
    values = [(moment, value) for moment, value in expression(messages) if moment < beats * beat]
    dips = [
        moment for (_, left), (moment, here), (_, right) in zip(values, values[1:], values[2:], strict=False)
        if left > here < right
    ]  # fmt: skip
    # the n-th dip lies half-way through the n-th pulse
    assert dips == [(place + HALF) * beat / pulses for place in range(beats * pulses)]
    assert 8 <= len(values) / (beats * pulses) <= 12


def test_a_pulse_dips_by_the_decibels_it_says() -> None:
    values = [value for _, value in expression(played(note(0, 4, pulses=3)))]
    assert abs(level_db(min(values)) - level_db(max(values)) + DIP_DB) < ROUNDING_DB


def test_pulses_ride_on_a_swell() -> None:
    values = expression(played(note(0, 4, velocity=40, shape=SWELL, pulses=4)))
    crests = [value for moment, value in values if moment.denominator in (1, 2, 4) and moment < 4]
    assert max(crests) == 127
    assert crests.index(127) == len(crests) // 2
