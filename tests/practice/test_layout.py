"""Drills laid out against lines written by hand, as a player writes them in a notebook.

Referee  the lines: written by hand by the rules of each drill (common practice, no source); melodic minor raises the
         sixth and seventh going up only; counts of half-steps and notes by arithmetic; partials from n x f, so the
         twelfth, the seventeenth and the flat twenty-first above an odd-harmonic tube.
"""

from __future__ import annotations

import re
from itertools import pairwise

import pytest

from tests.practice.lines import cells, line, stream, written

D_MINOR = """
    D4 E4 F4 G4 A4 B4 C#5 D5 E5 F5 G5 A5 B5 C#6 D6 E6 F6 G6 A6 B6 C#7
    D7 C7 Bb6 A6 G6 F6 E6 D6 C6 Bb5 A5 G5 F5 E5 D5 C5 Bb4 A4 G4 F4 E4 D4 C4 D4
"""
TURNED_ROUND_BELOW = """
    E4 F#4 G4 A4 B4 C#5 D#5 E5 F#5 G5 A5 B5 C#6 D#6 E6 F#6 G6 A6 B6 C#7
    B6 A6 G6 F#6 E6 D6 C6 B5 A5 G5 F#5 E5 D5 C5 B4 A4 G4 F#4 E4 D4 C4 D4 E4
"""
TURNED_ROUND_ABOVE = """
    Eb4 F4 Gb4 Ab4 Bb4 C5 D5 Eb5 F5 Gb5 Ab5 Bb5 C6 D6 Eb6 F6 Gb6 Ab6 Bb6 C7 D7
    C7 Bb6 Ab6 Gb6 F6 Eb6 Db6 Cb6 Bb5 Ab5 Gb5 F5 Eb5 Db5 Cb5 Bb4 Ab4 Gb4 F4 Eb4 Db4 Eb4
"""


def test_d_melodic_minor_turns_at_the_top_of_the_flute_and_at_its_lowest_note() -> None:
    assert stream(line("turning scale", "D minor")) == " ".join(D_MINOR.split())


@pytest.mark.parametrize(("key", "expected"), [("E minor", TURNED_ROUND_BELOW), ("Eb minor", TURNED_ROUND_ABOVE)])
def test_a_minor_scale_that_turns_round_on_its_sixth_or_seventh_has_no_augmented_second(
    key: str, expected: str
) -> None:
    assert stream(line("turning scale", key)) == " ".join(expected.split())


def test_the_turning_scale_has_about_forty_five_notes_on_a_flute() -> None:
    keys = ("C major", "Db major", "D major", "Eb minor", "E major", "F# minor", "A minor", "B major")
    counts = {key: len(line("turning scale", key).notes) for key in keys}
    assert counts["C major"] == 45  # 23 notes up to D7, 22 more down
    assert set(counts.values()) <= {41, 43, 45}


def test_from_the_top_and_from_the_fifth() -> None:
    compass = "C4 A5"
    from_the_top = "A5 G5 F5 E5 D5 C5 B4 A4 G4 F4 E4 D4 C4 D4 E4 F4 G4 A4 B4 C5 D5 E5 F5 G5 A5 G5 F5 E5 D5 C5"
    from_the_fifth = "G4 A4 B4 C5 D5 E5 F5 G5 A5 G5 F5 E5 D5 C5 B4 A4 G4 F4 E4 D4 C4"
    assert stream(line("turning scale", "C major", compass, turn="top")) == from_the_top
    assert stream(line("turning scale", "C major", compass, turn="5")) == from_the_fifth


THIRDS = "C4 E4 | D4 F4 | E4 G4 | F4 A4 | G4 B4 | A4 C5 | B4 G4 | A4 F4 | G4 E4 | F4 D4 | E4 C4"
FROM_ABOVE = "E4 C4 | F4 D4 | G4 E4 | A4 F4 | B4 G4 | C5 A4 | G4 B4 | F4 A4 | E4 G4 | D4 F4 | C4 E4 | C4"
ALTERNATING = "C4 E4 | F4 D4 | E4 G4 | A4 F4 | G4 B4 | C5 A4 | G4 B4 | A4 F4 | E4 G4 | F4 D4 | C4 E4 | C4"
IN_D_MINOR = """
    D4 F4 | E4 G4 | F4 A4 | G4 B4 | A4 C#5 | B4 D5 | C#5 E5 | D5 F5
    | E5 C5 | D5 Bb4 | C5 A4 | Bb4 G4 | A4 F4 | G4 E4 | F4 D4 | E4 C4 | D4
"""
OVER_THE_LEADING_NOTE = """
    Eb4 Gb4 | F4 Ab4 | Gb4 Bb4 | Ab4 C5 | Bb4 D5
    | C5 Ab4 | Bb4 Gb4 | Ab4 F4 | Gb4 Eb4 | F4 Db4 | Eb4
"""
"""E flat minor up to D5: the turn keeps the raised sixth on its way back."""


@pytest.mark.parametrize(
    ("drill", "key", "compass", "expected"),
    [
        ("thirds", "C major", "C4 C5", THIRDS),
        ("thirds from above", "C major", "C4 C5", FROM_ABOVE),
        ("thirds alternating", "C major", "C4 C5", ALTERNATING),
        ("thirds", "D minor", "C4 F5", IN_D_MINOR),
        ("thirds", "Eb minor", "C4 D5", OVER_THE_LEADING_NOTE),
    ],
)
def test_thirds_in_three_ways(drill: str, key: str, compass: str, expected: str) -> None:
    assert cells(line(drill, key, compass)) == written(expected)


def test_alternating_thirds_go_on_alternating_round_a_turn_of_any_length() -> None:
    ways = []
    for cell in cells(line("thirds alternating", "C major", "C4 B4"))[:-1]:
        first, second = cell.split()
        ways.append(
            "up" if (first[-1], "CDEFGAB".index(first[0])) < (second[-1], "CDEFGAB".index(second[0])) else "down"
        )
    assert ways == ["up", "down"] * (len(ways) // 2) + ["up"] * (len(ways) % 2)


DOWN = "G5 Gb5 F5 E5 Eb5 D5 Db5 C5 B4 Bb4 A4 Ab4 G4 Gb4 F4 E4 Eb4 D4 Db4 C4"
UP = "C4 C#4 D4 D#4 E4 F4 F#4 G4 G#4 A4 A#4 B4 C5 C#5 D5 D#5 E5 F5 F#5 G5"
ON = "G5 G#5 A5 A#5 B5 C6 C#6 D6 D#6 E6 F6 F#6 G6 G#6 A6 A#6 B6 C7 C#7 D7"


def test_the_slow_chromatic_goes_nineteen_half_steps_down_back_and_up_in_pairs() -> None:
    pairs = [f"{one} {two}" for way in (DOWN, UP, ON) for one, two in pairwise(way.split())]
    assert cells(line("slow chromatic")) == pairs
    assert len(pairs) == 3 * 19  # G5 is 19 half-steps above C4, D7 19 above G5


def test_groups_of_four_start_on_the_last_note_of_the_one_before_and_the_last_is_what_is_left() -> None:
    down = "G5 Gb5 F5 E5 | E5 Eb5 D5 Db5 | Db5 C5 B4 Bb4 | Bb4 A4 Ab4 G4 | G4 Gb4 F4 E4 | E4 Eb4 D4 Db4 | Db4 C4"
    up = "C4 C#4 D4 D#4 | D#4 E4 F4 F#4 | F#4 G4 G#4 A4 | A4 A#4 B4 C5 | C5 C#5 D5 D#5 | D#5 E5 F5 F#5 | F#5 G5"
    assert cells(line("slow chromatic in groups"))[:14] == written(f"{down} | {up}")


def test_five_note_cells_stand_on_each_half_step_up_an_octave_and_back() -> None:
    found = cells(line("five-note cells", "C major"))
    first = "C4 D4 E4 F4 G4 F4 E4 D4 | Db4 Eb4 F4 Gb4 Ab4 Gb4 F4 Eb4 | D4 E4 F#4 G4 A4 G4 F#4 E4"
    assert found[:3] == written(first)
    assert found[12] == "C5 D5 E5 F5 G5 F5 E5 D5"
    assert found[13:] == [*found[11::-1], "C4"]
    assert len(found) == 13 + 12 + 1


def test_triads_on_every_degree_take_the_leading_note_in_minor_and_come_home() -> None:
    expected = """
        A4 C5 E5 | B4 D5 F5 | C5 E5 G#5 | D5 F5 A5 | E5 G#5 B5 | F5 A5 C6
        | B5 G#5 E5 | A5 F5 D5 | G#5 E5 C5 | F5 D5 B4 | E5 C5 A4 | D5 B4 G#4 | A4
    """
    assert cells(line("triads on every degree", "A minor", "G4 C6")) == written(expected)


def test_each_note_meets_the_three_triads_of_the_key_that_hold_it() -> None:
    as_root_third_fifth = """
        C5 E5 G5 | A4 C5 E5 | F4 A4 C5 | D5 F5 A5 | B4 D5 F5 | G4 B4 D5 | E5 G5 B5 | C5 E5 G5 | A4 C5 E5
        | F5 A5 C6 | D5 F5 A5 | B4 D5 F5 | G5 B5 D6 | E5 G5 B5 | C5 E5 G5 | A5 C6 E6 | F5 A5 C6 | D5 F5 A5
        | B5 D6 F6 | G5 B5 D6 | E5 G5 B5 | C6 E6 G6 | A5 C6 E6 | F5 A5 C6
    """
    found = cells(line("every triad of each note", "C major"))
    assert found[:24] == written(as_root_third_fifth)
    assert all(scale_note in cell for scale_note, cell in zip("CCCDDDEEEFFFGGGAAABBBCCC", found, strict=False))


SEVENTH = "G4 B4 D5 F5 G5 B5 D6 F6 G6 B6 D7 B6 G6 F6 D6 B5 G5 F5 D5 B4 G4 F4 D4 F4 G4"
THEN_HOME = "C5 E5 G5 C6 E6 G6 C7 G6 E6 C6 G5 E5 C5 G4 E4 C4"
DIMINISHED = "G#4 B4 D5 F5 G#5 B5 D6 F6 G#6 B6 D7 B6 G#6 F6 D6 B5 G#5 F5 D5 B4 G#4 F4 D4 F4 G#4"
RESOLVED = "A4 C5 E5 A5 C6 E6 A6 C7 A6 E6 C6 A5 E5 C5 A4 E4 C4 E4 A4"


def test_the_dominant_seventh_resolves_up_a_fourth_to_the_tonic() -> None:
    assert stream(line("dominant seventh resolving", "C major")) == f"{SEVENTH} {THEN_HOME}"


def test_the_leading_note_resolves_up_a_half_step_after_the_diminished_seventh() -> None:
    assert stream(line("diminished seventh", "A minor")) == f"{DIMINISHED} {RESOLVED}"


def test_a_flute_overblows_to_every_partial_and_a_clarinet_to_the_odd_ones() -> None:
    flute = "C4 C5 G5 C6 E6 G6 Bb6 | Db4 Db5 Ab5 Db6 F6 Ab6 Cb7 | D4 D5 A5 D6 F#6 A6 C7"
    clarinet = "E3 B4 G#5 D6 | F3 C5 A5 Eb6 | F#3 C#5 A#5 E6"
    trumpet = "F#3 C#4 F#4 A#4 C#5 E5 | G3 D4 G4 B4 D5 F5"
    assert cells(line("partials"))[:3] == written(flute)
    assert cells(line("partials", compass="E3 C7", on="clarinet"))[:3] == written(clarinet)
    assert cells(line("partials", compass="F#3 D6", on="trumpet"))[:2] == written(trumpet)


def test_the_study_stands_in_its_key_where_the_instrument_sings() -> None:
    major = "D5 E5 F#5 A5 | B5 A5 F#5 E5 D5 | E5 G5 B5 A5 G5 | G5 F#5"
    minor = "A4 B4 C5 E5 | F5 E5 C5 B4 A4 | B4 D5 F5 E5 D5 | D5 C5"
    assert cells(line("curving study", "D major"))[:4] == written(major)
    assert cells(line("curving study", "A minor"))[:4] == written(minor)


def test_the_running_chromatic_is_written_as_players_read_it() -> None:
    up = "F#4 G4 G#4 A4 A#4 B4 C5 C#5 D5 D#5 E5 E#5 F#5"
    down = "Db5 C5 B4 Bb4 A4 Ab4 G4 Gb4 F4 E4 Eb4 D4 Db4"
    in_sharps, in_flats = (stream(line("running chromatic", key)) for key in ("F# major", "Db major"))
    assert in_sharps.startswith(up)
    assert down in in_flats
    for key in ("C# major", "Cb major", "D# minor", "Ab minor", "F# minor", "Bb minor"):
        found = stream(line("running chromatic", key))
        doubled = set(re.findall("[A-G](?:##|bb)", found))
        assert doubled == ({"C##"} if key == "D# minor" else set())  # its leading note


def test_the_pentatonic_of_a_minor_key_is_minor() -> None:
    assert stream(line("pentatonic scale", "E minor", "E4 E5")) == "E4 G4 A4 B4 D5 E5 D5 B4 A4 G4 E4"
    assert stream(line("pentatonic scale", "E major", "E4 E5")) == "E4 F#4 G#4 B4 C#5 E5 C#5 B4 G#4 F#4 E4"


def test_all_ten_triads_stand_around_the_tonic() -> None:
    expected = """
        D5 F#5 A5 | D5 F5 A5 | D5 F5 Ab5 | D5 F#5 A#5
        | Bb4 D5 F5 | B4 D5 F#5 | B4 D5 F5 | G4 B4 D5 | G4 Bb4 D5 | G#4 B4 D5
    """
    assert cells(line("ten triads of a note", "D major")) == written(expected)


def test_the_drone_and_the_chords_know_what_a_cell_stands_on() -> None:
    notes = line("triads on every degree", "C major", "C4 C5").notes
    assert " ".join(str(note.root) for note in notes if note.opens) == "C4 D4 E4 F4 E4 D4 C4"
    assert " ".join(note.chord.symbol for note in notes if note.chord and note.opens) == "C Dm Em F Em Dm C"


def test_the_path_is_marked_where_it_turns() -> None:
    assert [str(note.pitch) for note in line("turning scale", "D minor").notes if note.turns] == ["D7", "C4"]
    assert [str(note.pitch) for note in line("slow chromatic").notes if note.turns] == ["C4"]
    assert [str(note.pitch) for note in line("thirds", "C major", "C4 C5").notes if note.turns] == ["B4"]
