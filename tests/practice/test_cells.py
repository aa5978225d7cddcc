"""Cells on their stairs: strides, turns, joins, and the note that is missing when a drill does not fit.

Referee  lines written by hand for drills that a player might write for himself (invented), and by hand too what each
         cell stands on: the note of which it plays the third and fifth, or the second below; the note that is
         missing, counted by hand on the keyboard.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from droner.practice.layout.line import DoesNotFit, Line
from tests.practice.lines import cells, compass_of, laid, line, stream, written


def own(name: str, **keys: str) -> str:
    """A pattern file with one drill of the player's own."""
    rows = "\n".join(f"{key} = {value}" for key, value in keys.items())
    return f'[drill."{name}"]\nabout = "Mine."\nstaple = "scales"\n{rows}\n'


FOURS = own("mine", material='"scale"', cells='["1 2 3 4"]', stride="4", path='"turning"')
SKIPPING = own("mine", material='"chromatic"', cells='["1"]', stride="2", path='"from the middle"', keyed="false")
TWICE = own("mine", material='"scale"', path='"octave"', count="2")
PAIRS_TWICE = own("mine", material='"scale"', cells='["1 2"]', path='"octave"', count="2")
NEIGHBOURS = own("mine", material='"scale"', cells='["1 -2 1"]', path='"half-steps"')
FROM_FIVE = own("mine", material='"scale"', of='"blues"', path='"turning"')
HELD_TWICE = own("mine", material='"note"', cells='["1"]', lengths='["4"]', count="2")
EVEN_PARTIALS = own("mine", material='"partials"', of='"2 4"', keyed="false")
TWO_STRAINS = """
[drill."mine"]
about = "Mine."
staple = "arpeggios"
[[drill."mine".strain]]
material = "chord"
of = "V7"
[[drill."mine".strain]]
material = "chord"
of = "V7"
"""


def test_where_strides_end_short_the_last_cell_plays_what_is_left() -> None:
    expected = "C4 D4 E4 F4 | G4 A4 B4 C5 | D5 C5 B4 A4 | G4 F4 E4 D4 | C4"
    assert cells(line("mine", "C major", "C4 D5", own=FOURS)) == written(expected)


def test_a_path_from_the_middle_reaches_both_ends_whatever_the_stride() -> None:
    found = stream(line("mine", compass="C4 G#4", own=SKIPPING))
    assert found == "E4 D4 C4 D4 E4 F#4 G#4"


def test_a_drill_played_twice_meets_on_one_tonic() -> None:
    once = "C4 D4 E4 F4 G4 A4 B4 C5 B4 A4 G4 F4 E4 D4 "
    assert stream(line("mine", "C major", own=TWICE)) == f"{once}{once}C4"
    twice = cells(line("mine", "C major", "C4 D5", own=PAIRS_TWICE))
    assert twice[-len(twice) // 2 :][-1] == "D4 C4"
    assert twice[len(twice) // 2 - 1] == "D4"  # its C4 is the first note of the second time


@pytest.mark.parametrize(
    ("turn", "joint"),
    [
        ("low tonic", " C#4 E4 G4 A4 D5 F#5 A5 "),
        ("5", " C#4 E4 G4 A4 D5 F#5 A5 "),
        ("top", " G6 A6 C#7 A6 D7 A6 F#6 "),
    ],
)
def test_a_strain_goes_on_from_the_nearest_tonic_whatever_the_turn(turn: str, joint: str) -> None:
    assert joint in stream(line("dominant seventh resolving", "D major", turn=turn))


def test_the_same_note_at_a_join_is_not_struck_twice() -> None:
    found = stream(line("mine", "C major", "G4 D6", own=TWO_STRAINS)).split()
    assert all(one != two for one, two in pairwise(found))


def test_a_scale_without_a_perfect_fifth_does_not_start_from_its_flat_one() -> None:
    # the blues has a flat fifth before the fifth; the octatonic has only the flat one
    assert stream(line("mine", "A minor", own=FROM_FIVE, turn="5")).startswith("E5 G5 A5")
    assert stream(line("octatonic scale", "C major", turn="5")).startswith("C4 D4 Eb4")


def test_a_cell_that_reaches_below_starts_on_the_first_tonic_that_bears_it() -> None:
    assert cells(line("mine", "C major", own=NEIGHBOURS))[:2] == written("C5 B4 C5 | Db5 C5 Db5")


def test_a_held_note_is_the_tonic_nearest_the_middle() -> None:
    assert stream(line("mine", "D major", own=HELD_TWICE)) == "D5 D5"  # D5 lies nearer to G5 than D6
    assert stream(line("mine", "Eb major", own=HELD_TWICE)) == "Eb5 Eb5"


BELOW_THE_NOTE = own("mine", material='"scale"', cells='["-2"]')
TWO_BELOW = own("mine", material='"scale"', cells='["-3 -5"]')
THIRD_AND_FIFTH = own("mine", material='"scale"', cells='["3 5"]')
FAR_ABOVE = own("mine", material='"chord"', of='"I i"', cells='["12"]')
LEADING_NOTES = own("mine", material='"scale"', cells='["-2"]', path='"half-steps"')
SEVENTHS = own("mine", material='"chord"', of='"V7"', cells='["1 2 3 4"]', path='"half-steps"')


def roots(found: Line) -> str:
    """What each cell stands on."""
    return " ".join(str(note.root) for note in found.notes if note.opens)


@pytest.mark.parametrize(
    ("drill", "compass", "expected", "standing"),
    [
        (
            BELOW_THE_NOTE,
            "C4 C5",
            "C4 | D4 | E4 | F4 | G4 | A4 | B4 | C5 | B4 | A4 | G4 | F4 | E4 | D4 | C4",
            "D4 E4 F4 G4 A4 B4 C5 D5 C5 B4 A4 G4 F4 E4 D4",
        ),
        (
            TWO_BELOW,
            "C4 C5",
            "E4 C4 | F4 D4 | G4 E4 | A4 F4 | B4 G4 | C5 A4 | G4 B4 | F4 A4 | E4 G4 | D4 F4 | C4 E4 | C4",
            "G4 A4 B4 C5 D5 E5 D5 C5 B4 A4 G4 C4",
        ),
        (
            THIRD_AND_FIFTH,
            "C4 C5",
            "C4 E4 | D4 F4 | E4 G4 | F4 A4 | G4 B4 | A4 C5 | B4 G4 | A4 F4 | G4 E4 | F4 D4 | E4 C4",
            "A3 B3 C4 D4 E4 F4 E4 D4 C4 B3 A3",
        ),
        (
            FAR_ABOVE,
            "C4 C5",
            "C4 | E4 | G4 | C5 | G4 | E4 | C4",
            "E0 G0 C1 E1 C1 G0 E0",  # eleven notes of the triad: three octaves and two more
        ),
    ],
)
def test_a_cell_may_stand_on_a_note_that_nobody_plays(drill: str, compass: str, expected: str, standing: str) -> None:
    found = line("mine", "C major", compass, own=drill)
    assert cells(found) == written(expected)
    assert roots(found) == standing


def test_on_half_steps_home_lies_in_the_compass_even_where_the_cell_leaves_it_out() -> None:
    found = cells(line("mine", "C major", "C4 C6", own=LEADING_NOTES))
    assert found[:3] == written("B4 | C5 | C#5")  # of C5, D flat 5, D5
    assert found[-2:] == written("B4 | C5")
    too_low = laid("mine", "C major", "C4 B4", own=LEADING_NOTES)
    assert str(too_low) == "mine in C major needs C 5, above the top of this compass (B 4)"


def test_a_chord_on_half_steps_stands_on_its_root_and_comes_home_to_it() -> None:
    found = cells(line("mine", "C major", own=SEVENTHS))
    assert found[:3] == written("G4 B4 D5 F5 | Ab4 C5 Eb5 Gb5 | A4 C#5 E5 G5")
    assert found[-2:] == written("G4 B4 D5 F5 | G4")


def test_a_cell_far_wider_than_the_compass_names_the_note_that_it_would_reach() -> None:
    wide = own("mine", material='"scale"', cells='["-22 22"]')
    found = laid("mine", "C major", "C4 C6", own=wide)  # forty-two steps are six octaves
    assert str(found) == "mine in C major needs C 10, above the top of this compass (C 6)"


def test_what_walks_the_chromatic_needs_no_tonic() -> None:
    found = cells(line("slow chromatic", compass="D4 G4"))
    assert found == written("F4 E4 | E4 Eb4 | Eb4 D4 | D4 D#4 | D#4 E4 | E4 F4 | F4 F#4 | F#4 G4")
    groups = cells(line("slow chromatic in groups", compass="C4 Eb4"))
    assert groups == written("D4 Db4 C4 | C4 C#4 D4 | D4 D#4")


def test_partials_stop_at_the_first_fingering_that_has_only_one() -> None:
    assert cells(line("partials", compass="C4 D5")) == written("C4 C5 | Db4 Db5 | D4 D5")


@pytest.mark.parametrize(
    ("drill", "key", "compass", "needed"),
    [
        ("two-octave scale", "B major", "C4 A6", "B 6, above the top of this compass (A 6)"),
        ("octave scale", "C major", "D4 B5", "C 6, above the top of this compass (B 5)"),
        ("turning scale", "C major", "D4 B4", "C 5, above the top of this compass (B 4)"),
        ("sevenths", "D major", "C4 A4", "B 4, above the top of this compass (A 4)"),
        ("five-note cells", "C major", "C4 F4", "G 4, above the top of this compass (F 4)"),
        ("dominant seventh resolving", "C major", "A4 F5", "G 5, above the top of this compass (F 5)"),
        ("swell", "G major", "C4 E4", "G 4, above the top of this compass (E 4)"),
        ("partials", "", "C4 B4", "C 5, above the top of this compass (B 4)"),
        ("curving study", "C major", "C4 F5", "C 6, above the top of this compass (F 5)"),
    ],
)
def test_what_does_not_fit_says_which_note_and_which_limit(drill: str, key: str, compass: str, needed: str) -> None:
    # the curving study spans from a third below its tonic to an eleventh above: from C4 up, its lowest A is A4
    found = laid(drill, key, compass)
    assert isinstance(found, DoesNotFit)
    where = f" in {key}" if key else ""
    if drill == "curving study":
        assert found.needed not in compass_of(compass)
    else:
        assert str(found) == f"{drill}{where} needs {needed}"


def test_an_instrument_without_the_partials_asked_for_says_so() -> None:
    found = laid("mine", compass="E3 C7", on="clarinet", own=EVEN_PARTIALS)
    assert isinstance(found, DoesNotFit)
    assert str(found) == "mine: overblown, a clarinet gives only the partials 1 3 5 7 9"
