"""Referee: the sixteen channels of MIDI 1.0, whose bend moves a whole channel, and the arithmetic of sharing them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from droner.midi.channel_table import CHANNELS, Part, owned_by
from droner.midi.events import music
from droner.midi.held import held_channels
from droner.midi.message import Kind
from droner.midi.smf_file import smf_bytes
from droner.score.score import ChordEvent, Score
from tests.midi.scores import chord, note, score, tone
from tests.midi.smf_text import Heard, heard, read

SIX = ("D3", "F#3", "A3", "C4", "E4", "B4")
PERCUSSION_CHANNEL = 10  # General MIDI level 1
TRACK = {"Solo": 1, "Drone": 2, "Changes": 3, "Click": 4}


def off_tune(name: str, cents: float) -> float:
    """A frequency some cents from equal temperament, so that its channel must bend."""
    return tone(0, 1, name).hz * 2 ** (cents / 1200)


def fanned(names: tuple[str, ...], first_cents: int = 1) -> dict[str, float]:
    """Each name bent differently from all the others."""
    return {name: off_tune(name, first_cents + 3 * place) for place, name in enumerate(names)}


def fanned_drone(names: tuple[str, ...], changes: tuple[ChordEvent, ...] = ()) -> Score:
    return score(8, drone=[tone(0, 8, name, hz) for name, hz in fanned(names).items()], changes=changes)


def notes_of(made: Score, track: str) -> list[Heard]:
    found = [one for one in heard(read(smf_bytes(made))) if one.track == TRACK[track]]
    return sorted(found, key=lambda one: (one.onset, one.key))


def assert_releases_left_alone(made: Score) -> None:
    """No channel is bent at the moment a note on it ends."""
    messages = music(made)
    ends = {(message.moment, message.channel) for message in messages if message.kind is Kind.NOTE_OFF}
    bends = {(message.moment, message.channel) for message in messages if message.kind is Kind.BEND}
    assert bends
    assert not ends & bends


def test_the_table_plans_each_channel_once() -> None:
    assert [channel for channel, _ in CHANNELS] == list(range(1, 17))
    assert owned_by(Part.CLICK) == (PERCUSSION_CHANNEL,)
    assert {part: len(owned_by(part)) for part in Part} == {
        Part.SOLO: 2,
        Part.DRONE: 5,
        Part.CHANGES: 8,
        Part.CLICK: 1,
    }


def test_simultaneous_tones_have_channels_of_their_own() -> None:
    drone = notes_of(fanned_drone(SIX[:4]), "Drone")
    assert len({one.channel for one in drone}) == 4


@pytest.mark.parametrize("voices", [0, 4, 7])
def test_a_drone_of_six_different_tones_borrows_from_the_changes(voices: int) -> None:
    names = ("D4", "G4", "A4", "D5", "F#5", "A5", "E6")[:voices]
    changes = (chord(0, 4, fanned(names, 20)), chord(4, 4, fanned(names, 21))) if voices else ()
    made = fanned_drone(SIX, changes)
    drone, chords = notes_of(made, "Drone"), notes_of(made, "Changes")
    assert [round(one.hz, 2) for one in drone] == [round(t.hz, 2) for t in sorted(made.drone, key=lambda t: t.hz)]
    assert len({one.channel for one in drone}) == 6
    assert len(chords) == 2 * voices
    assert not {one.channel for one in drone} & {one.channel for one in chords}


def test_chords_of_nine_borrow_from_a_small_drone() -> None:
    names = ("C2", "E2", "G2", "C3", "E3", "G3", "C4", "E4", "G4")
    made = score(4, drone=[tone(0, 4, "C2")], changes=[chord(0, 4, fanned(names))])
    assert len({one.channel for one in notes_of(made, "Changes")}) == 9
    held = held_channels(made)
    assert not set(held.drone) & set(held.changes)


def test_octaves_of_one_bend_share_a_channel_when_there_are_more_than_channels() -> None:
    names = tuple(f"{letter}{octave}" for octave in range(1, 8) for letter in "DA")
    made = score(4, drone=[tone(0, 4, name) for name in names], changes=[chord(0, 4, fanned(SIX[:4]))])
    assert len(notes_of(made, "Drone")) == 14


def test_too_many_different_tones_are_our_mistake() -> None:
    every = tuple(f"{letter}{octave}" for octave in (3, 4) for letter in "CDEFGAB")
    with pytest.raises(ValueError, match="13 channels can tune apart"):
        music(fanned_drone(every))


def test_a_unison_is_never_struck_twice_on_one_channel() -> None:
    with pytest.raises(ValueError, match="13 channels can tune apart"):
        music(score(4, drone=[tone(0, 4, "D3") for _ in range(14)]))


def test_a_drone_moves_without_a_gap_and_leaves_the_release_alone() -> None:
    first = [tone(0, 4, name, hz) for name, hz in fanned(("D3", "A3")).items()]
    second = [tone(4, 4, name, hz) for name, hz in fanned(("E3", "B3"), 10).items()]
    drone = notes_of(score(8, drone=[*first, *second]), "Drone")
    assert [one.onset for one in drone[2:]] == [one.end for one in drone[:2]]
    assert not {one.channel for one in drone[:2]} & {one.channel for one in drone[2:]}


def test_four_voices_never_bend_the_release_of_the_chord_before() -> None:
    names = ("C4", "E4", "G4", "B4")
    changes = [chord(bar, 1, fanned(names, 1 + bar % 7)) for bar in range(32)]
    assert_releases_left_alone(score(32, changes=changes))


def test_common_tones_keep_their_channels_where_channels_are_few() -> None:
    # five voices on eight channels: three move to the silent three, two stay where their bend is
    first = {"C4": 261.0, "E4": 327.0, "G4": 391.0, "C5": 521.0, "E5": 653.0}
    second = {"A3": 219.0, "F4": 348.0, "A4": 438.0, "C5": 521.0, "E5": 653.0}
    assert_releases_left_alone(score(2, changes=[chord(0, 1, first), chord(1, 1, second)]))


def test_solo_notes_take_turns_on_two_channels() -> None:
    solo = [note(Fraction(place, 3), Fraction(1, 3), "A5") for place in range(9)]
    channels = [one.channel for one in notes_of(score(4, solo=solo), "Solo")]
    assert channels == [1, 2, 1, 2, 1, 2, 1, 2, 1]
