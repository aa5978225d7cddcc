"""Referee: an instrument by MIDI 1.0 that hears the old piece, the crossing, and is looked at after every message."""

from __future__ import annotations

import pytest

from droner.midi.live.crossing import crossing
from droner.midi.live.moments import Piece, piece
from droner.midi.live.silence import SoundingKey
from tests.midi.live.fakes import Instrument
from tests.midi.live.music import D3_HZ, drone_piece, item
from tests.midi.scores import score, tone

DRONE_CHANNELS = {3, 4, 5, 6, 16}


def sounding_now(instrument: Instrument) -> tuple[SoundingKey, ...]:
    return tuple(SoundingKey(channel, key) for channel, key in sorted(instrument.sounding))


def begun(made: Piece) -> Instrument:
    instrument = Instrument()
    for wire in made.opening:
        instrument.hear(wire)
    for moment in made.moments:
        if not moment.second:
            instrument.hear(moment.wire)
    return instrument


def tones(instrument: Instrument) -> set[tuple[int, int]]:
    """Key and bend of what sounds, wherever it is seated."""
    return {(key, instrument.bends[channel]) for channel, key in instrument.sounding}


@pytest.mark.parametrize("hz", [D3_HZ * 9 / 8, D3_HZ, D3_HZ * 1.01])
def test_a_drone_changes_without_a_gap_and_without_a_bent_tone(hz: float) -> None:
    instrument, new = begun(drone_piece(D3_HZ)), drone_piece(hz)
    old = instrument.sounding.copy()
    before = {one: instrument.bends[one[0]] for one in old}
    crossed = crossing(sounding_now(instrument), new)
    for wire in crossed.at_once:
        instrument.hear(wire)
        assert instrument.sounding, "something sounds at every moment"
        standing = old & instrument.sounding
        assert {one: instrument.bends[one[0]] for one in standing} == {one: before[one] for one in standing}
        assert standing == old or len(instrument.sounding - old) == 2, "the old ends after the new has begun"
    assert tones(instrument) == tones(begun(new))
    assert not old & instrument.sounding


def test_drone_after_drone_finds_its_seats() -> None:
    instrument = begun(drone_piece(D3_HZ))
    for step in range(1, 25):
        new = drone_piece(D3_HZ * 2 ** (step / 12))
        for wire in crossing(sounding_now(instrument), new).at_once:
            instrument.hear(wire)
        assert tones(instrument) == tones(begun(new))
        assert {channel for channel, _ in instrument.sounding} <= DRONE_CHANNELS


def test_the_rest_is_seated_where_the_beginning_is() -> None:
    instrument = begun(drone_piece(D3_HZ))
    crossed = crossing(sounding_now(instrument), drone_piece(D3_HZ * 1.5))
    for wire in crossed.at_once:
        instrument.hear(wire)
    for moment in crossed.rest:
        instrument.hear(moment.wire)
    assert not instrument.sounding


@pytest.mark.parametrize("number", [4, 5])
def test_where_seats_are_short_the_old_tone_ends_first(number: int) -> None:
    def many(hz: float) -> Piece:
        return piece(score(8, drone=[tone(0, 8, "D3", hz * (1 + 0.3 * place)) for place in range(number)]))

    instrument, new = begun(many(D3_HZ)), many(D3_HZ * 1.02)
    for wire in crossing(sounding_now(instrument), new).at_once:
        instrument.hear(wire)
    assert tones(instrument) == tones(begun(new))


def test_from_a_whole_item_to_another() -> None:
    instrument, new = begun(piece(item())), piece(item(8, 450_000, D3_HZ * 1.1), clock=True)
    crossed = crossing(sounding_now(instrument), new)
    for wire in crossed.at_once:
        instrument.hear(wire)
    assert tones(instrument) == tones(begun(new))
    assert instrument.wires.count(b"\xfa") == 1
    for moment in crossed.rest:
        instrument.hear(moment.wire)
    assert not instrument.sounding
