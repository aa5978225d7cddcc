"""Referees: mido, which reads the file of the same score in seconds; MIDI 1.0 for clock and song position."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from io import BytesIO

import mido
import pytest

from droner.midi.live.midi_clock import song_position
from droner.midi.live.moments import piece
from droner.midi.smf_file import smf_bytes
from droner.score.score import Score
from droner.units import Beats, Seconds
from tests.midi.live.music import item, moving_drone, session
from tests.midi.scores import click, score, tone

HALF_TICK_S = 0.000_1
"""Half a tick of the file is 0.05 ms at crotchet 60 (see `midi.ticks`), and mido adds floats."""
CLOCK, START, STOP = b"\xf8", b"\xfa", b"\xfc"


def in_the_file(made: Score) -> list[tuple[float, bytes]]:
    """Every channel message of the file with its second, as mido merges the tracks."""
    now, found = 0.0, []
    for message in mido.MidiFile(file=BytesIO(smf_bytes(made))):
        now += message.time
        if not message.is_meta:
            found.append((now, bytes(message.bytes())))
    return found


@pytest.mark.parametrize("made", [item(), moving_drone(), session(items=3, beats=8)])
def test_the_messages_and_their_seconds_are_those_of_the_file(made: Score) -> None:
    ready = piece(made)
    sent = [(0.0, wire) for wire in ready.setting]
    sent += [(float(moment.second), moment.wire) for moment in ready.moments]
    used = set(ready.channels)
    filed = [(second, wire) for second, wire in in_the_file(made) if wire[0] % 16 + 1 in used]
    # The file keeps a track for each part, so what falls together is merged by part: compared without that order.
    assert Counter(wire for _, wire in sent) == Counter(wire for _, wire in filed)
    sent.sort(key=lambda pair: (pair[1], pair[0]))
    filed.sort(key=lambda pair: (pair[1], pair[0]))
    for (second, wire), (their_second, their_wire) in zip(sent, filed, strict=True):
        assert wire == their_wire
        assert abs(second - their_second) < HALF_TICK_S


def test_the_seconds_are_exact() -> None:
    # Three quarters at 333,333 microseconds are 0.999999 s, and not a nanosecond else.
    ready = piece(score(4, tempos=[(Fraction(0), 333_333)], clicks=[click(3)]))
    assert ready.moments[0].second == Seconds(Fraction(999_999, 1_000_000))
    assert ready.moments[0].due_ns == 999_999_000
    assert ready.duration == Seconds(Fraction(1_333_332, 1_000_000))


def test_only_channels_that_play_are_set_up() -> None:
    ready = piece(score(4, drone=[tone(0, 4, "D3")], clicks=[click(0)]))
    assert ready.channels == (3, 10)
    assert {wire[0] % 16 + 1 for wire in ready.setting} == {3, 10}


def test_the_clock_beats_24_to_the_quarter_through_a_change_of_tempo() -> None:
    tempos = [(Fraction(0), 600_000), (Fraction(2), 480_000)]
    ready = piece(score(4, tempos=tempos, clicks=[click(beat) for beat in range(4)]), clock=True)
    clocks = [moment.second.exact for moment in ready.moments if moment.wire == CLOCK]
    # 600 ms / 24 = 25 ms and 480 ms / 24 = 20 ms
    assert clocks == [Fraction(25 * n, 1000) for n in range(48)] + [Fraction(1200 + 20 * n, 1000) for n in range(48)]
    assert ready.opening[-1] == START
    assert [moment.second for moment in ready.moments if moment.wire == STOP] == [ready.duration]
    assert ready.moments[0].wire == CLOCK, "the clock goes before the notes of its moment"


def test_a_clock_of_an_uneven_length_stops_at_the_end() -> None:
    ready = piece(score(Fraction(33, 32), drone=[tone(0, 1, "D3")]), clock=True)
    # 33/32 quarter is 24.75 clocks: those at 0, 1, ... 24
    assert sum(moment.wire == CLOCK for moment in ready.moments) == 25
    assert ready.moments[-1].wire == STOP


@pytest.mark.parametrize(("sixteenth", "written"), [(8, "F2 08 00"), (128, "F2 00 01"), (16383, "F2 7F 7F")])
def test_a_song_position_counts_sixteenths_in_14_bits(sixteenth: int, written: str) -> None:
    assert song_position(sixteenth) == bytes.fromhex(written)


def test_the_title_and_the_length_are_the_scores() -> None:
    ready = piece(item(8))
    assert (ready.title, ready.length) == ("invented", Beats(8))
