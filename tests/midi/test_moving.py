"""A tone with a course is bent along it, and what comes after it is in tune and at its loudness.

Referee  mido and symusic read the file and tell every bend and its second. A bend of 14 bits over two semitones is
         200 / 8192 cents (MIDI 1.0, RPN 0). Velocity and expression follow 40 log10(value / 127) dB (General MIDI 1
         developer guidelines, from memory).
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from math import log2, log10
from pathlib import Path
from typing import Any

import mido
import pytest
import symusic
from hypothesis import given, settings
from hypothesis import strategies as st

from droner.midi.events import music
from droner.midi.message import Kind
from droner.midi.smf_file import write_smf
from droner.score.score import Bearing, Score, Tone
from droner.units import Beats
from tests.midi.readers import _seconds
from tests.midi.scores import score, tone

STEP_CENTS = 200 / 8192
LARGEST_STEP_CENTS = 1.0
SOONEST_S, LATEST_S = 0.010, 0.020
"""The waits between two bends of a course that moves fast."""
TICK_S = 0.0001
EXPRESSION_DB = 0.35
"""Half a step of 1 in 127 at the softest, -12 dB, and half a step of velocity."""
HELD_DB = 40 * log10(80 / 127)
"""The held parts are struck at 80 when nothing else is asked for."""
EXPRESSION = 11
TEMPOS = ((Fraction(0), 1_000_000), (Fraction(6), 500_000))
CENTS = ((1.0, 8.0), (4.0, -8.0), (7.0, 30.0))
"""Seconds and cents of the course below: beat 8 comes at second 7."""
COURSE = (
    Bearing(Beats(1), 8.0, -6.0),
    Bearing(Beats(4), -8.0, 6.0),
    Bearing(Beats(8), 30.0, -6.0),
)


def moving(name: str, hz: float | None = None) -> Tone:
    return replace(tone(0, 8, name, hz), course=COURSE)


def partner() -> Score:
    """Two moving tones for seven seconds, then two still ones for two."""
    drone = [moving("D3", 147.3), moving("A3"), tone(8, 4, "E3", 164.1), tone(8, 4, "B3", 246.0)]
    return score(12, tempos=TEMPOS, drone=drone)


def on_the_line(points: tuple[tuple[float, float], ...], second: float) -> float:
    """Straight lines between the points; before and after them their heights."""
    if second <= points[0][0]:
        return points[0][1]
    for (start, low), (end, high) in pairwise(points):
        if second <= end:
            return low + (high - low) * (second - start) / (end - start)
    return points[-1][1]


def drone_messages(path: Path) -> list[tuple[float, Any]]:
    """Every message of the drone's track with its second, as mido reads them."""
    whole = mido.MidiFile(path)
    track = next(track for track in whole.tracks if track.name == "Drone")
    now, found = 0.0, []
    for message in mido.MidiFile(type=1, ticks_per_beat=whole.ticks_per_beat, tracks=[whole.tracks[0], track]):
        now += message.time
        found.append((now, message))
    return found


def keys_and_bends(path: Path) -> tuple[dict[int, int], dict[int, list[tuple[float, int]]]]:
    """By channel: the key of its first note, and (second, bend around 0) while that note sounds."""
    keys: dict[int, int] = {}
    bends: defaultdict[int, list[tuple[float, int]]] = defaultdict(list)
    ended: set[int] = set()
    for second, message in drone_messages(path):
        if message.type == "note_on" and message.channel not in keys:
            keys[message.channel] = message.note
        elif message.type == "note_off":
            ended.add(message.channel)
        elif message.type == "pitchwheel" and message.channel not in ended:
            bends[message.channel].append((second, message.pitch))
    return keys, bends


def cents_off(key: int, bend: int, hz: float, second: float) -> float:
    sounding = 100 * (key - 69) + bend * STEP_CENTS
    return sounding - (1200 * log2(hz / 440) + on_the_line(CENTS, second))


def test_mido_reads_the_bends_of_the_course_within_a_step(tmp_path: Path) -> None:
    write_smf(tmp_path / "partner.mid", partner())
    keys, bends = keys_and_bends(tmp_path / "partner.mid")
    moved = {channel: steps for channel, steps in bends.items() if len(steps) > 2}
    assert len(moved) == 2
    for channel, steps in moved.items():
        hz = min((147.3, moving("A3").hz), key=lambda hz: abs(1200 * log2(hz / 440) - 100 * (keys[channel] - 69)))
        sounding = [(second, bend) for second, bend in steps if second or bend]  # 0 at second 0 sets the channel up
        assert all(abs(cents_off(keys[channel], bend, hz, second)) <= STEP_CENTS for second, bend in sounding)
        held = [*sounding[1:], (7.0, 0)]
        for (_, bend), (until, _) in zip(sounding, held, strict=True):
            assert abs(cents_off(keys[channel], bend, hz, until)) <= LARGEST_STEP_CENTS
        waits = [later - earlier for (earlier, _), (later, _) in pairwise(sounding)]
        assert min(waits) > SOONEST_S - TICK_S


def test_symusic_reads_the_same_bends_at_the_same_seconds(tmp_path: Path) -> None:
    write_smf(tmp_path / "partner.mid", partner())
    _, bends = keys_and_bends(tmp_path / "partner.mid")
    file: Any = symusic.Score(tmp_path / "partner.mid")
    tempos = [(tempo.time, tempo.mspq) for tempo in file.tempos]
    read = [
        sorted(zip(_seconds([one.time for one in track.pitch_bends], tempos, file.ticks_per_quarter),
                   [one.value for one in track.pitch_bends], strict=True))
        for track in file.tracks if track.name == "Drone"
    ]  # fmt: skip
    for steps in bends.values():
        if len(steps) > 2:
            starts = [one[: len(steps)] for one in read]
            assert any(
                [bend for _, bend in one] == [bend for _, bend in steps]
                and [second for second, _ in one] == pytest.approx([second for second, _ in steps], abs=TICK_S)
                for one in starts
            )


def test_the_bend_of_a_bearing_is_there_at_its_moment(tmp_path: Path) -> None:
    """Second 4, where the course turns: 8 cents below D3 at 147.3 Hz, to half a step."""
    write_smf(tmp_path / "partner.mid", partner())
    keys, bends = keys_and_bends(tmp_path / "partner.mid")
    channel = next(channel for channel, key in keys.items() if key == 50 and len(bends[channel]) > 2)
    at_turn = [bend for second, bend in bends[channel] if abs(second - 4.0) < TICK_S]
    assert at_turn == [round((1200 * log2(147.3 / 440) + 1900 - 8) / STEP_CENTS)]


def test_velocity_and_expression_together_follow_the_decibels(tmp_path: Path) -> None:
    write_smf(tmp_path / "partner.mid", partner())
    gains = ((1.0, -6.0), (4.0, 6.0), (7.0, -6.0))
    messages = drone_messages(tmp_path / "partner.mid")
    channel = next(m.channel for _, m in messages if m.type == "note_on")
    struck = next(m.velocity for _, m in messages if m.type == "note_on")
    steps = [
        (second, m.value)
        for second, m in messages
        if m.type == "control_change" and m.control == EXPRESSION and m.channel == channel and second < 7.0
    ][1:]  # the first sets the channel up
    assert len(steps) > 50
    for second, value in steps:
        found = 40 * log10(value * struck / 127**2) - HELD_DB
        assert found == pytest.approx(on_the_line(gains, second), abs=EXPRESSION_DB)


def test_a_still_tone_is_struck_as_loud_as_its_gain_says() -> None:
    for gain_db in (-12.0, -3.0, 0.0, 3.0):
        made = score(4, drone=[replace(tone(0, 4, "D3"), gain_db=gain_db)])
        (struck,) = [m.data[1] for m in music(made) if m.kind is Kind.NOTE_ON]
        assert 40 * log10(struck / 127) - HELD_DB == pytest.approx(gain_db, abs=EXPRESSION_DB)


def test_the_tones_after_it_are_bent_and_loud_as_they_should_be(tmp_path: Path) -> None:
    """At every strike the channel stands at the tone's own bend and, if the tone is still, at full expression."""
    made = score(
        40,
        drone=[
            each
            for place in range(8)
            for name in ("D3", "A3", "F#3")
            for each in [
                replace(tone(5 * place, 5, name, tone(0, 1, name).hz * 1.001**place), course=COURSE * (place % 2))
            ]
        ],
    )
    write_smf(tmp_path / "turns.mid", made)
    bends, expression, struck = defaultdict(int), defaultdict(lambda: 127), []
    for _, message in drone_messages(tmp_path / "turns.mid"):
        if message.type == "pitchwheel":
            bends[message.channel] = message.pitch
        elif message.type == "control_change" and message.control == EXPRESSION:
            expression[message.channel] = message.value
        elif message.type == "note_on":
            struck.append((message.note, bends[message.channel], expression[message.channel]))
    for (key, bend, value), one in zip(struck, made.drone, strict=True):
        turns = ((1.0, 8.0), (4.0, -8.0), (8.0, 30.0))  # a beat is a second here
        first = on_the_line(turns, float(one.onset)) if one.course else 0.0
        cents = 100 * (key - 69) + bend * STEP_CENTS
        assert abs(cents - 1200 * log2(one.hz / 440) - first) <= STEP_CENTS
        if not one.course:
            assert value == 127
    assert set(expression.values()) == {127}


CENTS_DRAWN = st.floats(-50, 50)


@settings(deadline=None, max_examples=60)
@given(
    st.lists(
        st.tuples(st.fractions(0, 16, max_denominator=24), CENTS_DRAWN, st.floats(-12, 6)), min_size=1, max_size=6
    ),
    st.lists(st.floats(80.0, 900.0), min_size=1, max_size=4),
    st.sampled_from([200_000, 1_000_000, 5_000_000]),
)
def test_a_moving_tone_shares_its_channel_with_none_and_every_step_is_small(
    points: list[tuple[Fraction, float, float]], hertz: list[float], quarter_us: int
) -> None:
    course = tuple(Bearing(Beats(moment), *rest) for moment, *rest in sorted({p[0]: p for p in points}.values()))
    steepest = max(
        (abs(after.cents - before.cents) / float((after.onset - before.onset).exact * quarter_us / 1_000_000))
        for before, after in pairwise((course[0], *course)) if after is not before
    ) if len(course) > 1 else 0.0  # fmt: skip
    drone = [replace(tone(2, 10, "A3", hz), course=course) for hz in hertz] + [tone(12, 4, "A3", hz) for hz in hertz]
    made = score(16, tempos=[(Fraction(0), quarter_us)], drone=drone)
    sounding: set[int] = set()
    bends: dict[int, int] = defaultdict(lambda: 8192)
    for message in music(made):
        if message.kind is Kind.NOTE_ON:
            assert message.channel not in sounding
            sounding.add(message.channel)
        elif message.kind is Kind.NOTE_OFF:
            sounding.remove(message.channel)
        elif message.kind is Kind.BEND:
            bend = message.data[0] | message.data[1] << 7
            assert 0 < bend < 16383
            if message.channel in sounding:
                step_cents = abs(bend - bends[message.channel]) * STEP_CENTS
                assert step_cents <= max(LARGEST_STEP_CENTS, steepest * LATEST_S + STEP_CENTS)
            bends[message.channel] = bend
    assert not sounding


def test_a_course_beyond_the_range_of_the_bend_is_our_mistake() -> None:
    course = (Bearing(Beats(0), -300.0, 0.0), Bearing(Beats(4), 300.0, 0.0))
    with pytest.raises(ValueError, match="beyond the range of the bend"):
        music(score(4, drone=[replace(tone(0, 4, "A3"), course=course)]))
