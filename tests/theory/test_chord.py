"""Chords. Referees: music21's chord kinds and spelling; brute force over all pitch-class sets for the triads."""

from __future__ import annotations

from itertools import combinations
from types import ModuleType

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.theory.chord import (
    QUALITIES,
    ROLES,
    Chord,
    chord,
    chord_on_degree,
    triads_containing,
    triads_in_key_containing,
)
from droner.theory.chord_table import OTHER_SIGNS
from droner.theory.interval import interval
from droner.theory.key import Key, key, usual_keys
from droner.theory.pitch import NoteName, note_name

JUDGES = [
    ("major", "major"),
    ("minor", "minor"),
    ("diminished", "diminished"),
    ("augmented", "augmented"),
    ("suspended fourth", "suspended-fourth"),
    ("suspended second", "suspended-second"),
    ("open fifth", "power"),
    ("dominant seventh", "dominant-seventh"),
    ("major seventh", "major-seventh"),
    ("minor seventh", "minor-seventh"),
    ("half-diminished seventh", "half-diminished-seventh"),
    ("diminished seventh", "diminished-seventh"),
    ("minor-major seventh", "minor-major-seventh"),
    ("augmented-major seventh", "augmented-major-seventh"),
    ("augmented seventh", "augmented-seventh"),
]
ROOTS = ["C", "F#", "Bb", "Eb", "G#", "Ab", "B", "E"]
TRIAD_SETS = {
    # half-steps above the root; the four triads, by definition
    "major": {0, 4, 7},
    "minor": {0, 3, 7},
    "diminished": {0, 3, 6},
    "augmented": {0, 4, 8},
}
chords = st.builds(
    Chord, st.builds(NoteName, st.integers(0, 6), st.integers(-1, 1)), st.sampled_from(list(QUALITIES.values()))
)


@pytest.mark.parametrize(("name", "kind"), JUDGES)
@pytest.mark.parametrize("root", ROOTS)
def test_a_chord_is_spelled_as_music21_spells_it(music21: ModuleType, name: str, kind: str, root: str) -> None:
    judge = music21.harmony.ChordSymbol(root=root.replace("b", "-"), kind=kind)
    ours = Chord(note_name(root), QUALITIES[name])
    assert {str(one) for one in ours.notes} == {each.name.replace("-", "b") for each in judge.pitches}


@pytest.mark.parametrize("symbol", ["C", "F#m7b5", "Bbmaj7", "Am7", "Ebdim", "G7", "Cdim7", "Dsus4", "Baug"])
def test_a_lead_sheet_symbol_reads_as_music21_reads_it(music21: ModuleType, symbol: str) -> None:
    judge = music21.harmony.ChordSymbol(symbol.replace("b", "-", 1) if symbol[1:2] == "b" else symbol)
    assert {str(one) for one in chord(symbol).notes} == {each.name.replace("-", "b") for each in judge.pitches}


@given(chords)
def test_a_chord_reads_back_as_written(one: Chord) -> None:
    assert chord(one.symbol) == one


@given(chords, st.sampled_from(["M2", "m3", "P5 down", "M9 down"]))
def test_transposing_moves_every_note_alike(one: Chord, distance: str) -> None:
    moved = one.transposed(interval(distance))
    assert moved.notes == tuple(note + interval(distance) for note in one.notes)
    assert moved.transposed(-interval(distance)) == one


def test_a_chord_says_its_name_and_its_bass() -> None:
    # lead-sheet practice, no source
    assert chord("F#m7b5").spoken == "F sharp half-diminished seventh"
    assert chord("C/E").spoken == "C major over E"
    assert (chord("C/E").bass, str(chord("C/E").bass_note)) == (1, "E")
    assert chord("C/E").notes == chord("C").notes
    assert str(chord("Bb-7")) == "Bbm7"


def test_every_other_sign_means_a_sign_of_the_table() -> None:
    for sign, usual in OTHER_SIGNS:
        assert chord(f"D{sign}") == chord(f"D{usual}")


@pytest.mark.parametrize("symbol", ["", "H", "Cfoo", "C/F", "m7", "c"])
def test_what_is_no_chord_is_refused(symbol: str) -> None:
    with pytest.raises(ValueError, match="is not a"):
        chord(symbol)


def test_a_triad_has_no_third_inversion() -> None:
    with pytest.raises(ValueError, match="no inversion 3"):
        Chord(note_name("C"), QUALITIES["major"], 3)


def _sets_holding(pitch_class: int, shape: set[int]) -> set[frozenset[int]]:
    """Every set of three of the twelve keys that holds the pitch class and is a transposition of the shape."""
    found = set()
    for three in combinations(range(12), 3):
        moves = [{(root + step) % 12 for step in shape} for root in range(12)]
        if pitch_class in three and set(three) in moves:
            found.add(frozenset(three))
    return found


@pytest.mark.parametrize("pitch_class", range(12))
def test_each_pitch_class_lies_in_3_major_3_minor_3_diminished_and_1_augmented_triad(pitch_class: int) -> None:
    by_force = {name: _sets_holding(pitch_class, shape) for name, shape in TRIAD_SETS.items()}
    assert [len(sets) for sets in by_force.values()] == [3, 3, 3, 1]
    for text in ("C", "C#", "Db", "D", "Eb", "E", "Fb", "F", "F#", "G", "Ab", "A", "Bb", "B"):
        note = note_name(text)
        if note.pitch_class != pitch_class:
            continue
        for name, sets in by_force.items():
            ours = [one for one, _ in triads_containing(note, [name])]
            assert {frozenset(each.pitch_class for each in one.notes) for one in ours} == sets
            assert len(ours) == len(sets)


@pytest.mark.parametrize("text", ["C", "F#", "Bb", "G#", "Cb"])
def test_the_ten_triads_on_a_note_hold_it_as_spelled_in_their_role(text: str) -> None:
    found = triads_containing(note_name(text))
    assert len(found) == 10
    for one, role in found:
        assert one.notes[ROLES.index(role)] == note_name(text)


@pytest.mark.parametrize("one", [one for one in usual_keys() if not one.is_minor], ids=str)
def test_each_degree_of_a_major_key_lies_in_three_of_its_triads(music21: ModuleType, one: Key) -> None:
    # in C: I ii iii IV V vi viio; music21 names the chord on each root
    scale_notes = set(one.notes)
    for note in one.notes:
        found = triads_in_key_containing(note, one)
        assert [role for _, role in found] == ["root", "third", "fifth"]
        assert len({triad.root for triad, _ in found}) == 3
        for triad, role in found:
            assert set(triad.notes) <= scale_notes
            judge = music21.chord.Chord([str(each).replace("b", "-") for each in triad.notes])
            assert judge.quality == triad.quality.name
            assert triad.notes[ROLES.index(role)] == note


def test_melodic_minor_takes_the_chords_of_the_way_down_for_its_natural_notes() -> None:
    # C melodic minor: A natural rising gives F major, A flat only falls and gives F minor; by stacking thirds
    rising = triads_in_key_containing(note_name("A"), key("C melodic minor"))
    falling = triads_in_key_containing(note_name("Ab"), key("C melodic minor"))
    assert [one.symbol for one, _ in rising] == ["Adim", "F", "Dm"]
    assert [one.symbol for one, _ in falling] == ["Ab", "Fm", "Ddim"]


def test_a_note_outside_the_key_has_no_triads_in_it() -> None:
    with pytest.raises(ValueError, match="F# is not a note of C major"):
        triads_in_key_containing(note_name("F#"), key("C major"))


@pytest.mark.parametrize(
    ("text", "size", "symbols"),
    # harmonised scales: common practice, no source
    [
        ("C major", 3, "C Dm Em F G Am Bdim"),
        ("C major", 4, "Cmaj7 Dm7 Em7 Fmaj7 G7 Am7 Bm7b5"),
        ("A minor", 3, "Am Bdim C Dm E F G#dim"),
        ("A minor", 4, "Am7 Bm7b5 Cmaj7 Dm7 E7 Fmaj7 G#dim7"),
        ("A harmonic minor", 4, "Am(maj7) Bm7b5 Cmaj7#5 Dm7 E7 Fmaj7 G#dim7"),
    ],
)
def test_the_chords_on_the_degrees_are_the_harmonised_scale(text: str, size: int, symbols: str) -> None:
    assert " ".join(chord_on_degree(key(text), place, size).symbol for place in range(1, 8)) == symbols


def test_the_natural_minor_dominant_may_be_asked_for() -> None:
    assert chord_on_degree(key("A minor"), 5, leading_note=False).symbol == "Em"
    assert chord_on_degree(key("A minor"), 7, 4, leading_note=False).symbol == "G7"


def test_scales_without_seven_degrees_have_no_chords_in_thirds() -> None:
    with pytest.raises(ValueError, match="seven degrees"):
        chord_on_degree(key("C whole tone"), 1)
    with pytest.raises(ValueError, match="degrees 1 to 7"):
        chord_on_degree(key("C major"), 8)
