"""Referees: the exact seconds of the score, on a clock that we turn; an instrument by MIDI 1.0 that counts notes."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from itertools import pairwise

import pytest

from droner.live.words import Act, ChangeTo, Deed, Place, Seek
from droner.midi.live.commands import Command
from droner.midi.live.moments import NANOSECONDS, Piece, piece
from droner.midi.live.player import Player
from droner.midi.live.playing import LEAD_NS
from droner.midi.live.port_watch import PortState
from droner.units import Beats
from tests.midi.live.music import D3_HZ, drone_piece, item
from tests.midi.live.room import Room
from tests.midi.scores import click, score, tone

ON_TIME_NS = 100_000
"""On a clock that never oversleeps, only the looks at it (a microsecond each) can make a message late."""
MILLISECOND_NS = 1_000_000
CABLE_BYTE_NS = 320_000
"""A byte on a MIDI cable: ten bits at 31,250 baud (IEC 63035). The setting is given the time that it takes."""


def five_clicks() -> Piece:
    return piece(score(5, clicks=[click(beat) for beat in range(5)]))


def test_every_message_goes_out_at_its_own_moment(room: Room) -> None:
    made = piece(item())
    ended = room.player.play(made, room.asked)
    sent = room.instrument.received[len(made.setting) :]
    assert [wire for _, wire in sent] == [moment.wire for moment in made.moments]
    asked_ns = room.instrument.received[0][0]
    begins_ns = asked_ns + LEAD_NS + sum(map(len, made.setting)) * CABLE_BYTE_NS
    for (when, _), moment in zip(sent, made.moments, strict=True):
        assert abs(when - begins_ns - moment.due_ns) < ON_TIME_NS
    assert (ended.finished, ended.command, ended.at) == (True, None, Beats(8))
    assert (ended.timing.sent, ended.timing.late) == (len(made.moments), 0)


@pytest.mark.parametrize(("clicks_from", "waits"), [(2, False), (Fraction(1, 2), True), (0, True)])
def test_a_drone_that_opens_alone_does_not_wait_for_the_cable(
    room: Room,
    clicks_from: Fraction | int,
    waits: bool,  # noqa: FBT001 - what is expected
) -> None:
    # a beat a second: the first click follows after two seconds, after half a second, or sounds with the drone
    alone = score(8, drone=[tone(0, 8, "D3", 146.832)], clicks=[click(clicks_from + beat) for beat in range(5)])
    made = piece(alone)
    room.player.play(made, room.asked)
    asked_ns, sent = room.instrument.received[0][0], room.instrument.received[len(made.setting) :]
    lead_ns = LEAD_NS + waits * sum(map(len, made.setting)) * CABLE_BYTE_NS
    for (when, _), moment in zip(sent, made.moments, strict=True):
        assert abs(when - asked_ns - lead_ns - moment.due_ns) < ON_TIME_NS


def test_lateness_is_counted_and_does_not_add_up(room: Room) -> None:
    room.at(1.5, lambda: setattr(room.clock, "oversleeps_ns", 40 * MILLISECOND_NS))
    room.at(1.95, lambda: setattr(room.clock, "oversleeps_ns", 150 * MILLISECOND_NS))
    ended = room.player.play(five_clicks(), room.asked)
    onsets = room.onsets_ns()
    assert ended.timing.late == 1
    # asleep from 1.95 s for a nap of 10 ms and 150 ms more, and the lead of 13 ms gone before beat 0
    assert 90 < ended.timing.worst_ms < 110
    assert [round((onset - onsets[0]) / NANOSECONDS, 1) for onset in onsets] == [0.0, 1.0, 2.1, 3.0, 4.0]


def test_a_machine_that_slept_goes_on_where_it_was(room: Room) -> None:
    room.at(1.5, lambda: setattr(room.clock, "oversleeps_ns", 3_600 * NANOSECONDS))
    ended = room.player.play(five_clicks(), room.asked)
    onsets = room.onsets_ns()
    gaps = [round((after - before) / NANOSECONDS, 2) for before, after in pairwise(onsets)]
    assert gaps[0] == gaps[2] == gaps[3] == 1.0, "no burst of what was missed"
    assert gaps[1] > 3_599
    assert ended.finished


@pytest.mark.parametrize("command", [Command.NEXT, Command.AGAIN, Command.END, Command.SLOWER])
def test_a_command_ends_the_piece_in_silence(room: Room, command: Command) -> None:
    room.ask(2.2, command)
    ended = room.player.play(piece(item()), room.asked)
    assert (ended.finished, ended.command) == (False, command)
    assert not room.instrument.sounding
    # Four beats of half a second, the lead of the setting before: 2.2 s is a little under beat 4.4.
    assert Beats(4) < ended.at < Beats(Fraction(22, 5))


def test_a_command_may_leave_the_music_alone(room: Room) -> None:
    said: list[Command] = []

    def obey(command: Command) -> Deed:
        said.append(command)
        return Act.GO_ON

    made = piece(item())
    room.ask(1.0, Command.CLEAN)
    ended = room.player.play(made, room.asked, obey)
    assert (said, ended.finished) == ([Command.CLEAN], True)
    assert room.instrument.wires == [*made.setting, *(moment.wire for moment in made.moments)]


def test_a_pause_is_silent_and_what_should_stand_stands_again(room: Room) -> None:
    silent: list[bool] = []
    places: list[Place | None] = []
    room.ask(1.25, Act.PAUSE)
    room.at(60, lambda: silent.append(not room.instrument.sounding))
    room.at(60, lambda: places.append(room.player.place))
    room.ask(61, Act.PAUSE)
    drone: set[tuple[int, int]] = set()
    room.at(61.5, lambda: drone.update(room.instrument.sounding))
    made = drone_piece(D3_HZ, 4)
    ended = room.player.play(made, room.asked)
    assert silent == [True]
    assert places[0] is not None
    assert places[0].paused
    assert Beats(1) < places[0].moment < Beats(Fraction(5, 4))
    assert len(drone) == 2
    assert ended.finished
    assert not room.instrument.sounding
    # four seconds of music, and the pause of 59.75 s
    assert 63.7 < (room.instrument.received[-1][0] - room.instrument.received[0][0]) / NANOSECONDS < 63.9


def test_seeking_goes_to_the_beat_and_strikes_what_stands_there(room: Room) -> None:
    room.ask(0.5, Seek(Beats(6)))
    ended = room.player.play(piece(item()), room.asked)
    # Beats 4 to 8 last 450 ms: from beat 6 there is 0.9 s to go, half a second having gone before.
    lasted = (room.instrument.received[-1][0] - room.instrument.received[0][0]) / NANOSECONDS
    assert 1.4 < lasted < 1.9
    assert ended.finished
    assert not room.instrument.sounding


def test_seeking_while_paused_stays_paused(room: Room) -> None:
    room.ask(0.5, Act.PAUSE)
    room.ask(0.6, Seek(Beats(7)))
    quiet: list[bool] = []
    room.at(5, lambda: quiet.append(not room.instrument.sounding))
    room.ask(6, Act.PAUSE)
    room.ask(6.3, Act.STOP)
    ended = room.player.play(piece(item()), room.asked)
    assert quiet == [True]
    assert Beats(7) < ended.at < Beats(8)


def test_a_piece_may_begin_in_the_middle(room: Room) -> None:
    made = piece(item())
    ended = room.player.play(made, room.asked, start=Beats(4))
    clicks = [wire for wire in room.instrument.struck if wire[0] == 0x99]
    assert len(clicks) == 4, "the clicks of beats 4 to 7"
    assert ended.at == Beats(8)


def test_the_drone_changes_without_a_gap(room: Room) -> None:
    gaps: list[float] = []
    hear = room.instrument.hear

    def listen(wire: bytes) -> None:
        hear(wire)
        if not room.instrument.sounding and room.instrument.struck:
            gaps.append(room.clock.ns / NANOSECONDS)

    room.player = Player(listen, room.clock)
    room.ask(2.0, ChangeTo(drone_piece(D3_HZ * 1.125, 30)))
    room.ask(4.0, ChangeTo(drone_piece(D3_HZ * 1.25, 30)))
    room.ask(6.0, Act.STOP)
    ended = room.player.play(drone_piece(D3_HZ, 30), room.asked)
    assert len(gaps) == 1, "only the stop leaves silence"
    assert len(room.instrument.struck) == 6
    assert Beats(1) < ended.at < Beats(3), "the place is that in the last piece"


def test_a_follower_of_the_clock_is_stopped_and_goes_on(room: Room) -> None:
    made = piece(score(8, clicks=[click(beat) for beat in range(8)]), clock=True)
    room.ask(2.3, Act.PAUSE)
    room.ask(9.0, Act.PAUSE)
    room.player.play(made, room.asked)
    words = [wire for wire in room.instrument.wires if wire[0] >= 0xF0 and wire != b"\xf8"]
    # start; stop; on to the tenth sixteenth (beat 2.5, having paused at 2.2 to 2.3); continue; stop
    assert words == [b"\xfa", b"\xfc", bytes((0xF2, 10, 0)), b"\xfb", b"\xfc"]
    assert sum(wire == b"\xf8" for wire in room.instrument.wires) == 8 * 24


class BrokenError(Exception):
    """Something in the caller's own code."""


@pytest.mark.parametrize("second", [0.25, 0.7, 1.8, 3.1])
def test_an_exception_leaves_silence_and_comes_through(room: Room, second: float) -> None:
    def break_off() -> None:
        raise BrokenError

    room.at(second, break_off)
    with pytest.raises(BrokenError):
        room.player.play(piece(item()), room.asked)
    assert room.instrument.struck
    assert not room.instrument.sounding
    assert room.player.place is None


def test_a_port_that_breaks_on_any_message_leaves_silence() -> None:
    made = piece(item(4))
    for fatal in range(len(made.setting), len(made.setting) + len(made.moments)):
        room = Room()
        hear, broken = room.instrument.hear, [fatal]

        def send(wire: bytes, hear: Callable[[bytes], None] = hear, broken: list[int] = broken) -> None:
            hear(wire)
            broken[0] -= 1
            if broken[0] == -1:
                raise BrokenError

        player = Player(send, room.clock)
        with pytest.raises(BrokenError):
            player.play(made, room.asked)
        assert not room.instrument.sounding


def test_a_port_that_comes_back_is_hushed_then_given_what_should_sound(room: Room) -> None:
    heard: list[set[tuple[int, int]]] = []
    gone: list[bool] = []

    def vanish() -> None:
        room.instrument.deaf, room.state = True, PortState.GONE

    def come_back() -> None:
        heard.append(room.instrument.sounding.copy())
        gone.append(room.player.port_gone)
        room.instrument.received.clear()
        room.instrument.deaf, room.state = False, PortState.BACK

    room.at(1.1, vanish)
    room.at(5.1, come_back)
    room.at(5.8, lambda: heard.append(room.instrument.sounding.copy()))
    made = piece(score(8, drone=[tone(0, 4, "D3"), tone(4, 4, "E3")]))
    ended = room.player.play(made, room.asked)
    assert gone == [True]
    assert not room.player.port_gone
    first = [wire[0] & 0xF0 for wire in room.instrument.wires]
    assert first[0] == 0x80, "the hush is the first thing that it hears"
    # D3 is key 50, E3 52: it still sounded the old tone when it came back, and then only the new
    assert {key for _, key in heard[0]} == {50}
    assert {key for _, key in heard[1]} == {52}
    assert ended.finished
    assert not room.instrument.sounding
