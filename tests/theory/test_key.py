"""Keys. Referees: music21's key signatures and scales; the seven letters of a key; the circle of fifths."""

from __future__ import annotations

from types import ModuleType

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.theory.interval import interval
from droner.theory.key import Key, key, usual_keys
from droner.theory.pitch import Interval

keys = st.sampled_from(usual_keys())
intervals = st.sampled_from([interval(text) for text in ("m2", "M2", "m3", "M3", "P4", "A4", "d5", "P5", "M6", "M9")])


@pytest.mark.parametrize("one", usual_keys(), ids=str)
def test_a_usual_key_has_music21s_signature_and_scale(music21: ModuleType, one: Key) -> None:
    judge = music21.key.Key(str(one.tonic).replace("b", "-"), one.mode)
    assert one.signature == judge.sharps
    assert [str(note) for note in one.notes] == [each.name.replace("-", "b") for each in judge.pitches[:7]]


@pytest.mark.parametrize("one", usual_keys(), ids=str)
def test_every_usual_key_spells_seven_different_letters(one: Key) -> None:
    assert len({note.step for note in one.notes}) == 7


def test_there_are_fifteen_major_and_fifteen_minor_keys() -> None:
    # signatures of seven flats to seven sharps, each once in major and minor: common practice, no source
    assert [one.signature for one in usual_keys()] == [*range(-7, 8), *range(-7, 8)]
    assert len(set(usual_keys())) == 30


@pytest.mark.parametrize("mode", ["dorian", "phrygian", "lydian", "mixolydian", "locrian"])
@pytest.mark.parametrize("tonic", ["C", "D", "F#", "Bb", "E"])
def test_a_mode_has_the_signature_of_its_parent(music21: ModuleType, mode: str, tonic: str) -> None:
    judge = music21.key.Key(tonic.replace("b", "-"), mode)
    assert key(f"{tonic} {mode}").signature == judge.sharps


@pytest.mark.parametrize("text", ["D# minor", "d sharp minor", "D-sharp minor", "D#m", " D#  MINOR "])
def test_a_key_has_many_ways_of_writing(text: str) -> None:
    assert key(text) == Key(key("D# major").tonic, "minor")
    assert key(text).signature == 6  # D sharp minor has six sharps: common practice, no source


@given(keys)
def test_a_key_reads_back_as_written_and_spoken(one: Key) -> None:
    assert key(str(one)) == one
    assert key(one.spoken) == one


@pytest.mark.parametrize(
    ("written", "distance", "transposed"),
    # common practice, no source: what a transposing player gets on the stand
    [
        ("F# major", "M2", "Ab major"),
        ("D# minor", "M2", "F minor"),
        ("C major", "M2", "D major"),
        ("Gb major", "P5 down", "Cb major"),
        ("Cb major", "P5 down", "E major"),
        ("Bb minor", "m3 down", "G minor"),
        ("D dorian", "M2", "E dorian"),
        ("C whole tone", "m3", "Eb whole tone"),
    ],
)
def test_transposing_gives_the_key_a_player_would_write(written: str, distance: str, transposed: str) -> None:
    assert key(written).transposed(interval(distance)) == key(transposed)


@given(keys, intervals)
def test_transposing_there_and_back_returns_to_the_same_sound(one: Key, distance: Interval) -> None:
    there = one.transposed(distance)
    back = there.transposed(-distance)
    assert there.tonic.pitch_class == (one.tonic.pitch_class + distance.semitones) % 12
    assert (back.tonic.pitch_class, back.mode) == (one.tonic.pitch_class, one.mode)
    assert len({note.step for note in there.notes}) == 7
    assert abs(there.tonic.fifths + (there.scale.signature or 0)) <= 7


def test_minor_is_told_by_the_third() -> None:
    # common practice, no source
    assert [key(f"D {mode}").is_minor for mode in ("minor", "dorian", "harmonic minor", "blues")] == [True] * 4
    assert [key(f"D {mode}").is_minor for mode in ("major", "lydian", "chromatic")] == [False] * 3


@pytest.mark.parametrize("text", ["", "C", "H major", "major", "C4 major", "C sharp flat minor"])
def test_what_is_no_key_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="is not a key"):
        key(text)


def test_a_misspelt_mode_gets_the_nearest() -> None:
    with pytest.raises(ValueError, match="did you mean minor"):
        key("E flat minr")
    with pytest.raises(ValueError, match="not a scale"):
        Key(key("C major").tonic, "nonsense")
