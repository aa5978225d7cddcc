"""A drone and a click without end on a port, by a clock that we turn.

Referees  an instrument by MIDI 1.0; the arithmetic of beats: the accents of a bar must come round whatever the tempos,
          so none is lost or doubled; the messages of the MIDI file for what was never changed.
"""

from __future__ import annotations

import random
from fractions import Fraction
from itertools import cycle, islice, pairwise

import pytest

from droner.live.words import Act, ChangeTo
from droner.midi.live.endless_click import EndlessClick, endless_click
from droner.midi.live.endless_drone import MOST_TONES, StandingDrone, standing_drone
from droner.midi.live.moments import NANOSECONDS, piece
from droner.practice.pattern import ClickPattern
from droner.score.plain import click_score
from droner.theory.meter import meter
from tests.midi.live.fakes import Instrument
from tests.midi.live.room import Room

EVERY_BEAT = ClickPattern("every beat", "")
ACCENT, BEAT = 76, 77
LOOKS_NS = 50_000
"""Each look at the turned clock takes a microsecond; so many may be made before a message goes out."""


def clicking(bpm: Fraction | int, bar: str = "4/4", pattern: ClickPattern = EVERY_BEAT) -> EndlessClick:
    return endless_click(meter(bar), pattern, Fraction(bpm))


def struck(room: Room) -> list[tuple[int, int]]:
    """When each click was struck, and its key."""
    return [(when, wire[1]) for when, wire in room.instrument.received if wire[0] == 0x99 and wire[2]]


@pytest.mark.parametrize(
    ("bar", "bpm", "pattern"),
    [
        ("4/4", 84, EVERY_BEAT),
        ("2+2+3/8", 200, EVERY_BEAT),
        ("6/8", 60, ClickPattern("divided", "", divide=0)),
        ("3/4", 132, ClickPattern("dropped", "", drop=Fraction(1, 3))),
        ("4/4", 100, ClickPattern("on and off", "", bars_on=2, bars_off=1)),
        ("4/4", 100, ClickPattern("fading", "", fade_bars=4)),
        ("4/4", 208, ClickPattern("in four", "", divide=4)),
    ],
)
def test_the_clicks_are_those_of_the_file(bar: str, bpm: int, pattern: ClickPattern) -> None:
    bars = 12
    file = piece(click_score(meter(bar), pattern, Fraction(bpm), bars, 440.0))
    ends_ns = file.moments[-1].due_ns
    wanted = [(moment.due_ns, moment.wire) for moment in file.moments if moment.wire[2] and moment.wire[0] == 0x99]
    room = Room()
    room.ask(ends_ns / NANOSECONDS + 0.001, Act.STOP)
    room.player.play(clicking(bpm, bar, pattern), room.asked)
    heard = [(when, wire) for when, wire in room.instrument.received if wire[0] == 0x99 and wire[2]]
    assert [wire for _, wire in heard][: len(wanted)] == [wire for _, wire in wanted]
    begins = heard[0][0] - wanted[0][0]
    assert [when - begins for when, _ in heard][: len(wanted)] == pytest.approx(
        [due for due, _ in wanted], abs=LOOKS_NS
    )
    assert room.instrument.sounding == set()


@pytest.mark.parametrize("seed", range(5))
def test_no_click_is_lost_or_doubled_whenever_the_tempo_changes(seed: int) -> None:
    chance, room = random.Random(seed), Room()
    bpms = [chance.choice((40, 60, 84, 120, 208, 400)) for _ in range(60)]
    moments = sorted(chance.uniform(0.1, 40) for _ in bpms)
    # and at the very moments of clicks: at 120 a beat is half a second
    moments[:8] = [0.5 * place + 0.01 + chance.uniform(-1e-5, 1e-5) for place in range(1, 9)]
    bpms[:8] = [120] * 8
    for moment, bpm in zip(moments, bpms, strict=True):
        room.ask(moment, ChangeTo(clicking(bpm)))
    room.ask(45, Act.STOP)
    room.player.play(clicking(120), room.asked)
    clicks = struck(room)
    assert len(clicks) > 40
    assert [key for _, key in clicks] == list(islice(cycle((ACCENT, BEAT, BEAT, BEAT)), len(clicks)))
    gaps = [later - earlier for (earlier, _), (later, _) in pairwise(clicks)]
    assert min(gaps) >= 60 * NANOSECONDS / 400 - LOOKS_NS
    assert max(gaps) <= 60 * NANOSECONDS / 40 + LOOKS_NS
    assert room.instrument.sounding == set()


@pytest.mark.parametrize("seed", range(5))
def test_nor_on_a_machine_that_wakes_late(seed: int) -> None:
    """Up to 30 ms late, so that changes are found when clicks before them are still to be sent."""
    chance, room = random.Random(seed), Room()
    turn = room.clock.when_asleep
    assert turn is not None

    def oversleep() -> None:
        turn()
        room.clock.oversleeps_ns = chance.randrange(30_000_000)

    room.clock.when_asleep = oversleep
    for _ in range(600):
        room.ask(chance.uniform(0.1, 60), ChangeTo(clicking(chance.choice((208, 300, 400)))))
    room.ask(65, Act.STOP)
    room.player.play(clicking(120), room.asked)
    keys = [key for _, key in struck(room)]
    assert len(keys) > 200
    assert keys == list(islice(cycle((ACCENT, BEAT, BEAT, BEAT)), len(keys)))


def test_the_share_of_a_beat_that_was_left_is_played_at_the_new_tempo() -> None:
    """60, then 120 a quarter of a beat after the third click: three quarters of half a second are left, 0.375 s."""
    room = Room()
    room.ask(2.26, ChangeTo(clicking(120)))
    room.ask(5, Act.STOP)
    room.player.play(clicking(60), room.asked)
    gaps = [(later - earlier) / NANOSECONDS for (earlier, _), (later, _) in pairwise(struck(room))]
    # the change was asked for 2.25 s after the first click, or up to a nap of 10 ms and a 48th of a beat later
    assert gaps[:2] == pytest.approx([1, 1], abs=1e-4)
    assert 0.25 + 0.375 - 1e-3 <= gaps[2] <= 0.25 + 0.375 + (0.01 + 1 / 48) / 2 + 1e-3
    assert gaps[3:] == pytest.approx([0.5] * len(gaps[3:]), abs=1e-4)


def test_a_new_meter_begins_at_the_next_bar_line() -> None:
    room = Room()
    room.ask(1.3, ChangeTo(clicking(120, "3/4")))
    room.ask(6, Act.STOP)
    room.player.play(clicking(120), room.asked)
    keys = [key for _, key in struck(room)]
    assert keys[:10] == [ACCENT, BEAT, BEAT, BEAT, ACCENT, BEAT, BEAT, ACCENT, BEAT, BEAT]


def test_a_day_of_clicks_stays_on_its_second() -> None:
    """A quarter at 84 a minute is written as 714,286 microseconds: so many times a hundred thousand, and one more."""
    quarter_s = Fraction(714_286, 1_000_000)
    joined = clicking(84).entry(clicking(84).tempo_map.seconds_at(meter("4/4").bar * 25_000))
    first = next(moment for moment in joined.rest if moment.wire and moment.wire[0] == 0x99 and moment.wire[2])
    assert first.second.exact == 100_001 * quarter_s


def hearing(*drones: StandingDrone) -> tuple[Instrument, list[list[bytes]]]:
    """An instrument that hears one drone after another, and what each change sent."""
    room, sent = Room(), list[list[bytes]]()
    for place, drone in enumerate(drones[1:], 1):
        room.ask(place, ChangeTo(drone))
        room.at(place - 0.001, lambda: sent.append(room.instrument.wires))
    room.at(len(drones), lambda: sent.append(room.instrument.wires))
    room.at(len(drones) + 0.1, lambda: room.asked.put(Act.STOP))
    room.player.play(drones[0], room.asked)
    parts = [later[len(earlier) :] for earlier, later in pairwise(sent)]
    return room.instrument, parts


def test_a_tone_that_stays_hears_nothing_of_a_change() -> None:
    _, [sent] = hearing(standing_drone("", [220, 330]), standing_drone("", [220, 275]))
    assert not any(wire[0] & 0x0F == 2 for wire in sent), "the channel of 220 Hz, the first of the drone's"
    assert [wire[0] & 0xF0 for wire in sent if wire[0] & 0xF0 in (0x80, 0x90)] == [0x90, 0x80]


def test_a_tone_that_keeps_its_key_has_its_bend_moved() -> None:
    _, [sent] = hearing(standing_drone("", [220, 330]), standing_drone("", [220, 329.6276]))
    assert [wire[0] & 0xF0 for wire in sent] == [0xE0]


def test_the_largest_drones_follow_one_another_without_a_gap() -> None:
    chance = random.Random(3)
    drones = [
        standing_drone("", [110 * 2 ** (key / 12) for key in chance.sample(range(36), MOST_TONES)]) for _ in range(30)
    ]
    instrument, parts = hearing(*drones)
    assert len(parts) == 29
    played = Instrument()
    silent = 0
    for wire in instrument.wires:
        before = len(played.sounding)
        played.hear(wire)
        silent += before > 0 and not played.sounding
        assert len(played.sounding) <= 2 * MOST_TONES
        if wire[0] & 0xF0 == 0xE0:
            moved = [place for place in played.sounding if place[0] == (wire[0] & 0x0F) + 1]
            assert len(moved) <= 1
    assert silent == 1, "at the end alone"
    assert played.sounding == set()


def test_more_tones_than_there_are_channels_for_are_refused() -> None:
    with pytest.raises(ValueError, match="at most"):
        standing_drone("", [110 * place for place in range(1, MOST_TONES + 2)])


def test_a_drone_is_not_taken_up_by_a_click_nor_a_click_by_a_drone() -> None:
    drone, click = standing_drone("", [220]), clicking(60)
    start = meter("4/4").beat
    assert drone.after(click, start) is None
    assert click.after(drone, start) is None
