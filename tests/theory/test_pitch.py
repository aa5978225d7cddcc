"""Spelled pitch. Referees: ISO 16 / scientific pitch notation for the numbers, music21 for spelling, algebra."""

from __future__ import annotations

from types import ModuleType

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.theory.pitch import OCTAVE, Interval, NoteName, Pitch, note_name, pitch

note_names = st.builds(NoteName, st.integers(0, 6), st.integers(-2, 2))
pitches = st.builds(NoteName.in_octave, note_names, st.integers(0, 8))
intervals = st.builds(Interval, st.integers(-14, 14), st.integers(-24, 24))


@pytest.mark.parametrize(
    ("text", "midi"),
    # ISO 16 numbering, A4 = 69; enharmonics by definition of B sharp and C flat
    [("C-1", 0), ("C0", 12), ("A0", 21), ("C4", 60), ("A4", 69), ("B#3", 60), ("Cb4", 59), ("G9", 127), ("E##4", 66)],
)
def test_octave_numbers_follow_scientific_pitch_notation(text: str, midi: int) -> None:
    assert pitch(text).midi == midi


@pytest.mark.parametrize("text", ["B flat 3", "Bb3", "b♭3", "B♭ 3", "bb3"])
def test_one_pitch_has_many_ways_of_writing(text: str) -> None:
    assert pitch(text) == NoteName(6, -1).in_octave(3)


@pytest.mark.parametrize("text", ["", "H4", "C", "C#b4", "C 44", "4C", "Cis4"])
def test_what_is_no_pitch_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="not a pitch"):
        pitch(text)


@pytest.mark.parametrize("text", ["", "C4", "H", "sharp"])
def test_what_is_no_note_name_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="not a note name"):
        note_name(text)


@given(note_names)
def test_a_note_name_reads_back_as_it_is_written_and_spoken(name: NoteName) -> None:
    assert note_name(str(name)) == name
    assert note_name(name.spoken) == name


@given(pitches)
def test_a_pitch_reads_back_as_it_is_written_and_spoken(one: Pitch) -> None:
    assert pitch(str(one)) == one
    assert pitch(one.spoken) == one


@given(pitches, intervals)
def test_going_up_and_back_down_returns(one: Pitch, distance: Interval) -> None:
    assert one + distance - distance == one
    assert (one + distance) - one == distance


@given(note_names)
def test_the_line_of_fifths_climbs_one_place_a_fifth(name: NoteName) -> None:
    fifth = Interval(4, 7)
    assert (name + fifth).fifths == name.fifths + 1
    assert fifth.fifths == 1
    assert OCTAVE.fifths == 0


@given(intervals)
def test_an_interval_within_the_octave_keeps_its_place_on_the_line_of_fifths(distance: Interval) -> None:
    assert 0 <= distance.within_octave.steps < 7
    assert distance.within_octave.fifths == distance.fifths


@pytest.mark.parametrize("steps", range(-7, 8))
def test_adding_an_interval_spells_as_music21_does(music21: ModuleType, steps: int) -> None:
    for text in ("C4", "F#4", "Bb4", "Eb3", "G#5"):
        start = pitch(text)
        for semitones in range(12):
            end = start + Interval(steps, 12 * (steps // 7) + semitones)
            if abs(end.name.alter) > 2:
                continue  # neither page nor player writes triple signs
            judge = music21.pitch.Pitch(str(end).replace("b", "-"))
            assert judge.midi == end.midi
            assert judge.diatonicNoteNum - 1 == end.position
