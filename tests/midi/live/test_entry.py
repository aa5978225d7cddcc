"""Referee: an instrument by MIDI 1.0 that heard all from the beginning stands like one that came in at the place."""

from __future__ import annotations

from fractions import Fraction

import pytest

from droner.midi.live.entry import entry
from droner.midi.live.moments import Piece, piece
from droner.units import Beats, Seconds
from tests.midi.live.fakes import Instrument
from tests.midi.live.music import item, moving_drone
from tests.midi.scores import click, score, tone

PLACES = [Fraction(1, 7), Fraction(1), Fraction(103, 100), Fraction(19, 10), Fraction(3)]
"""At 1.03 s a click has been struck for 0.03 s and still sounds."""
CLICK_CHANNEL = 10
SONG_POSITION, CONTINUE, CLOCK = 0xF2, b"\xfb", b"\xf8"


def heard_until(made: Piece, second: Fraction) -> Instrument:
    instrument = Instrument()
    for wire in made.opening:
        instrument.hear(wire)
    for moment in made.moments:
        if moment.second.exact < second:
            instrument.hear(moment.wire)
    return instrument


def came_in(made: Piece, second: Fraction) -> Instrument:
    instrument = Instrument()
    for wire in entry(made, Seconds(second)).at_once:
        instrument.hear(wire)
    return instrument


@pytest.mark.parametrize("made", [piece(item()), piece(moving_drone())], ids=["item", "moving drone"])
@pytest.mark.parametrize("second", PLACES)
def test_whoever_comes_in_stands_as_if_there_from_the_beginning(made: Piece, second: Fraction) -> None:
    there, late = heard_until(made, second), came_in(made, second)
    assert late.bends == there.bends
    assert late.controllers == there.controllers
    assert late.sounding == {one for one in there.sounding if one[0] != CLICK_CHANNEL}
    assert late.sounding, "the drone sounds at every place"


@pytest.mark.parametrize("second", PLACES)
def test_nothing_that_is_due_is_lost_or_sent_twice(second: Fraction) -> None:
    made = piece(item())
    rest = entry(made, Seconds(second)).rest
    assert rest == tuple(moment for moment in made.moments if moment.second.exact >= second)


def test_notes_are_struck_after_everything_is_set() -> None:
    kinds = [wire[0] & 0xF0 for wire in entry(piece(item()), Seconds(1)).at_once]
    assert 0x90 in kinds
    assert all(kind == 0x90 for kind in kinds[kinds.index(0x90) :])


def test_the_beginning_is_the_opening_and_all_the_music() -> None:
    made = piece(item(), clock=True)
    joined = entry(made)
    assert (joined.at_once, joined.rest) == (made.opening, made.moments)


def test_a_follower_of_the_clock_goes_on_at_the_next_sixteenth() -> None:
    made = piece(score(4, drone=[tone(0, 4, "D3")], clicks=[click(0)]), clock=True)
    # A beat a second: 1.3 s is beat 1.3, and the next sixteenth is the sixth, at 1.5.
    joined = entry(made, Seconds(Fraction(13, 10)))
    assert bytes((SONG_POSITION, 6, 0)) in joined.at_once
    rest = tuple(joined.rest)
    place = [moment.wire for moment in rest].index(CONTINUE)
    assert rest[place].second == Seconds(Fraction(3, 2))
    assert rest[place + 1].wire == CLOCK
    # From there on, 24 clocks a quarter to the end at beat 4: 2.5 quarters.
    assert sum(moment.wire == CLOCK for moment in rest[place:]) == 60


def test_a_place_in_beats_is_found_by_the_tempo_map() -> None:
    made = piece(item(8))
    # Four beats at 500 ms, then at 450 ms: beat 6 is at 2.9 s.
    assert made.tempo_map.seconds_at(Beats(6)) == Seconds(Fraction(29, 10))
