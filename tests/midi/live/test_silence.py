"""Referee: MIDI 1.0's note off and channel mode messages, heard by an instrument that knows what stands."""

from __future__ import annotations

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.midi.live.silence import HEARD_NS, Keeper, SoundingKey
from tests.midi.live.fakes import Instrument

# Note on, channel 1, key 60; note on, channel 3, key 62; click, channel 10.
ON_60, OFF_60 = bytes.fromhex("90 3C 50"), bytes.fromhex("80 3C 40")
ON_62 = bytes.fromhex("92 3E 50")
CLICK_ON = bytes.fromhex("99 4C 64")
VELOCITY_0 = bytes.fromhex("90 3C 00")
BEND_UP = bytes.fromhex("E2 00 50")
PEDAL_UP, NOTES_OFF, RESET = bytes.fromhex("B2 40 00"), bytes.fromhex("B2 7B 00"), bytes.fromhex("B2 79 00")
NO_BEND = bytes.fromhex("E2 00 40")
DIN_BYTE_S = 320e-6
HUSHED_WITHIN_S = 0.1


class BrokenError(Exception):
    """The port has had enough."""


def test_a_hush_ends_notes_then_lets_go_of_everything_on_used_channels() -> None:
    instrument = Instrument()
    keeper = Keeper(instrument.hear)
    for wire in (BEND_UP, ON_62):
        keeper.send(wire)
    keeper.hush()
    assert instrument.wires[2:] == [bytes.fromhex("82 3E 40"), PEDAL_UP, NOTES_OFF, NO_BEND, RESET]
    assert not instrument.sounding


def test_a_second_hush_has_nothing_to_do() -> None:
    instrument = Instrument()
    keeper = Keeper(instrument.hear)
    keeper.send(ON_60)
    keeper.hush()
    assert keeper.hush() == 0


def test_a_note_that_ended_is_not_ended_again() -> None:
    for end in (OFF_60, VELOCITY_0):
        instrument = Instrument()
        keeper = Keeper(instrument.hear)
        keeper.send(ON_60)
        keeper.send(end)
        assert not keeper.sounding
        keeper.still()
        assert instrument.wires == [ON_60, end]


@pytest.mark.parametrize("fails_at", range(4))
def test_a_note_that_may_have_been_heard_is_ended(fails_at: int) -> None:
    """The port breaks after it has taken the message: nobody knows whether the instrument heard it."""
    instrument = Instrument()

    def send(wire: bytes) -> None:
        instrument.hear(wire)
        if len(instrument.received) == fails_at + 1:
            raise BrokenError

    keeper = Keeper(send)
    with suppress(BrokenError):
        for wire in (ON_60, ON_62, OFF_60, CLICK_ON):
            keeper.send(wire)
    assert len(instrument.received) == fails_at + 1
    keeper.hush()
    assert not instrument.sounding


WIRES = st.sampled_from([ON_60, OFF_60, VELOCITY_0, ON_62, bytes.fromhex("82 3E 40"), CLICK_ON, BEND_UP])


@given(before=st.lists(WIRES, max_size=6), together=st.lists(WIRES, max_size=8), reached=st.integers(0, 8))
def test_what_is_sent_together_leaves_nothing_on_wherever_it_breaks(
    before: list[bytes], together: list[bytes], reached: int
) -> None:
    instrument = Instrument()
    keeper = Keeper(instrument.hear)
    for wire in before:
        keeper.send(wire)
    send = keeper.ready(together)
    for wire in together[:reached]:
        send(wire)
    if reached >= len(together):
        keeper.sent(together)
        assert {(key.channel, key.key) for key in keeper.sounding} == set(instrument.sounding)
    keeper.hush()
    assert not instrument.sounding


def test_the_hush_goes_through_though_a_message_fails_and_then_says_so() -> None:
    instrument = Instrument()
    failing = [True]

    def send(wire: bytes) -> None:
        if wire[0] == 0x80 and failing.pop():
            failing.append(False)
            raise BrokenError
        instrument.hear(wire)

    keeper = Keeper(send)
    keeper.send(ON_60)
    keeper.send(ON_62)
    with pytest.raises(BrokenError):
        keeper.hush()
    assert instrument.sounding == set(), "all notes off reached the channel whose note off failed"
    assert list(keeper.sounding) == [SoundingKey(1, 60)], "and it is still known as not ended"
    keeper.hush()
    assert not keeper.sounding


def test_after_the_last_hush_nothing_gets_through() -> None:
    instrument = Instrument()
    keeper = Keeper(instrument.hear)
    keeper.send(ON_60)
    keeper.hush_for_good()
    keeper.send(ON_62)
    assert ON_62 not in instrument.wires
    assert not instrument.sounding
    assert not keeper.sounding


def test_an_instrument_that_was_away_is_told_of_every_key() -> None:
    instrument = Instrument()
    keeper = Keeper(instrument.hear)
    keeper.send(ON_60)
    instrument.deaf = True
    keeper.send(OFF_60)
    keeper.send(ON_62)
    instrument.deaf = False
    assert instrument.sounding == {(1, 60)}, "it missed the end"
    keeper.hush_all()
    assert not instrument.sounding
    assert {bytes.fromhex("80 3C 40"), bytes.fromhex("82 3E 40")} <= set(instrument.wires)


def test_a_clock_that_runs_is_stopped_once() -> None:
    instrument = Instrument()
    keeper = Keeper(instrument.hear)
    keeper.send(b"\xfa")
    keeper.still()
    keeper.still()
    assert instrument.wires == [b"\xfa", b"\xfc"]


def test_the_fullest_hush_with_its_waiting_takes_less_than_a_tenth_of_a_second() -> None:
    keeper = Keeper(Instrument().hear)
    for channel in range(16):
        keeper.send(bytes((0x90 | channel, 60, 80)))
    took = keeper.hush() + keeper.insist()
    assert 2 * HEARD_NS / 1e9 < HUSHED_WITHIN_S
    assert took * DIN_BYTE_S < HUSHED_WITHIN_S, "a MIDI cable has carried it by then"
