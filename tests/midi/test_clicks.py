"""Referee: the percussion map of General MIDI level 1, keys 35 to 81."""

from __future__ import annotations

from fractions import Fraction
from math import log10

import pytest

from droner.midi.events import music
from droner.midi.message import Kind, TimedMessage
from droner.midi.smf_file import smf_bytes
from droner.score.score import Click, ClickKind
from tests.midi.scores import click, score
from tests.midi.smf_text import heard, read

GENERAL_MIDI_KEYS = range(35, 82)
SHORT_DRY = {37, 75, 76, 77}  # side stick, claves, high and low wood block (General MIDI level 1)
ROUNDING_DB = 0.5
"""A velocity rounded to a whole number, from 20 up: 40 log10(20.5/20) = 0.43 dB."""


def strokes(*clicks: Click, length: Fraction | int = 4) -> list[TimedMessage]:
    return [message for message in music(score(length, clicks=clicks)) if message.kind is Kind.NOTE_ON]


def test_each_kind_has_a_sound_of_its_own_that_every_synthesiser_has() -> None:
    found = strokes(*(click(beat, kind) for beat, kind in enumerate(ClickKind)))
    keys = [message.data[0] for message in found]
    assert len(set(keys)) == len(ClickKind)
    assert set(keys) <= SHORT_DRY
    assert all(key in GENERAL_MIDI_KEYS for key in keys)
    assert {message.channel for message in found} == {10}


def test_the_first_of_the_bar_is_the_loudest_and_a_part_of_a_beat_the_softest() -> None:
    loud = {kind: strokes(click(0, kind))[0].data[1] for kind in ClickKind}
    assert loud[ClickKind.ACCENT] == max(loud.values())
    assert loud[ClickKind.SUBDIVISION] == min(loud.values())


@pytest.mark.parametrize("gain", [1.0, 0.7, 0.5, 0.25, 0.1])
def test_a_gain_is_a_share_of_the_amplitude(gain: float) -> None:
    full, faded = (strokes(click(0, gain=share))[0].data[1] for share in (1.0, gain))
    assert abs(40 * log10(faded / full) - 20 * log10(gain)) < ROUNDING_DB


def test_a_silent_click_is_left_out() -> None:
    assert [message.moment.exact for message in strokes(click(0, gain=0.0), click(1))] == [1]


def test_of_two_equal_clicks_at_one_moment_the_louder_sounds() -> None:
    twice = strokes(click(0, gain=0.25), click(0, gain=1.0), click(0, gain=0.5))
    assert twice == strokes(click(0))


def test_fast_clicks_and_the_last_one_end_in_time() -> None:
    sixteenth = Fraction(1, 16)
    fast = score(1, clicks=[click(place * sixteenth) for place in range(16)])
    found = heard(read(smf_bytes(fast)))
    assert len(found) == 16
    assert all(one.end - one.onset == 630 for one in found)  # 10080 / 16
