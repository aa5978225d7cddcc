"""The octave of a drone in which a note that is a few cents off can be counted.

Referee  coinciding partials: partial n of the drone and m of the note, n/m the just ratio in lowest terms, beat m times
         the error of the note; so the fewest m is the slowest beat. Worked out here by hand for every note, with
         partials to the tenth (to the sixteenth where there are none) and drones from C2 to C6. F#5 against D: 23.3 a
         second in equal temperament over D5, 11.7 over D4, 5.8 over D3 (arithmetic).
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from droner.practice.pattern import Variant
from droner.score.best_octave import best_octave
from droner.theory.pitch import UNISON, pitch
from droner.theory.tuning import tuning
from droner.units import Beats
from tests.score.composed import MAJOR_KEYS, MINOR_KEYS, composed, drawn, manner, patterns, rows

SCALE = 'drill = "octave scale"'
BEST = 'drone_octave = "best"'
D3 = pitch("D3")
JUST_ON_D = tuning(440.0, "just", D3.name)
BEATS_SLACK = 0.05
"""The rates are given to one decimal."""
EXAMPLES = 40


def best_for(*notes: tuple[str, int]) -> int:
    """The octave of a drone on D under notes of so many beats."""
    return best_octave(D3, UNISON, [(pitch(name), Beats(length)) for name, length in notes], JUST_ON_D)


def test_under_a_major_third_the_drone_lies_two_octaves_lower() -> None:
    third_hz = 440 * 2 ** ((pitch("F#5").midi - 69) / 12)
    rates = []
    for octave, (n, m) in ((5, (5, 4)), (4, (5, 2)), (3, (5, 1))):
        drone_hz = 440 * 2 ** ((pitch(f"D{octave}").midi - 69) / 12)
        rates.append(m * third_hz - n * drone_hz)
    assert rates == pytest.approx([23.3, 11.7, 5.8], abs=BEATS_SLACK)
    assert best_for(("F#5", 1)) == 3


@pytest.mark.parametrize(
    ("note", "octave"),
    [
        # ratio to D5 and the octaves in which m is least; the nearest of them
        ("D5", 5),  # 1/1: m = 1 in octaves 2 to 5
        ("E5", 2),  # 9/8: (9, 8), (9, 4), (9, 2), (9, 1) for D5, D4, D3, D2
        ("G5", 5),  # 4/3, 8/3: m = 3
        ("A5", 4),  # 3/2, 3/1, 6/1: m = 1 from D4 down
        ("B5", 5),  # 5/3, 10/3: m = 3
    ],
)
def test_each_degree_has_its_best_octave(note: str, octave: int) -> None:
    assert best_for((note, 1)) == octave


def test_the_octave_that_serves_the_longest_time_is_taken() -> None:
    assert best_for(("F#5", 3), ("G5", 2)) == 3
    assert best_for(("F#5", 2), ("G5", 3)) == 5
    assert best_for(("F#5", 2), ("G5", 1), ("B5", 2)) == 5, "a fourth and a sixth vote alike"


def by_hand(note: str, ratio: Fraction) -> int:
    """The best octave of C for a note that is so far above C4, in the octave from there."""
    for last in (10, 16):
        rows_of_octaves = []
        for octave in (2, 3, 4, 5, 6):
            lies = ratio * Fraction(2) ** (4 - octave)
            if max(lies.numerator, lies.denominator) <= last:
                away = abs(pitch(note).midi - pitch(f"C{octave}").midi)
                rows_of_octaves.append((lies.denominator, away, octave))
        if rows_of_octaves:
            return min(rows_of_octaves)[2]
    raise AssertionError(note)


RATIOS = {
    "C4": Fraction(1),
    "D4": Fraction(9, 8),
    "E4": Fraction(5, 4),
    "F4": Fraction(4, 3),
    "G4": Fraction(3, 2),
    "A4": Fraction(5, 3),
    "B4": Fraction(15, 8),
    "C5": Fraction(2),
}


def test_a_still_drone_under_a_scale_takes_the_octave_with_most_votes() -> None:
    """C, F and A vote for C4, D, E and B for C2, G for C3, the upper C for C5; the last C is held the longest."""
    made = composed(f'{SCALE}\ndrone = "tonic"\n{BEST}', played=manner("one a beat"))
    votes: dict[int, Fraction] = {}
    for note in made.score.solo:
        octave = by_hand(str(note.pitch), RATIOS[str(note.pitch)])
        votes[octave] = votes.get(octave, Fraction(0)) + note.length.exact
    assert sorted(votes) == [2, 3, 4, 5]
    assert max(votes, key=lambda octave: votes[octave]) == 4
    assert [str(tone.pitch) for tone in made.score.drone] == ["C4"]


def test_under_each_degree_every_cell_has_its_own_octave() -> None:
    """Cells of a note and its third above: the root votes for itself, the third, held longer, for two octaves below."""
    own = """
    [drill."third"]
    about = "A note, and its third held."
    staple = "scales"
    material = "scale"
    cells = ["1 3"]
    path = "octave"
    lengths = ["1 3"]
    varies = false
    """
    block = f'drill = "third"\ndrone = "under each degree"\n{BEST}'
    score = composed(block, own=own).score
    first = score.drone[0]
    assert [str(note.pitch) for note in score.solo[:2]] == ["C4", "E4"]
    assert str(first.pitch) == "C2"
    usual = composed(block.replace(BEST, ""), own=own).score
    assert str(usual.drone[0].pitch) == "C3"


def test_a_followed_note_is_its_own_best_octave() -> None:
    follows = f'{SCALE}\ndrone = "follows the note"'
    assert composed(f"{follows}\n{BEST}").score.drone == composed(follows).score.drone


def test_a_fifth_alone_is_counted_against_itself() -> None:
    """Over G the C is a fourth (4/3): m is 3 wherever G lies near it; over the tonic C it would be a unison."""
    own = """
    [drill."one"]
    about = "One note."
    staple = "tone"
    material = "note"
    cells = ["1"]
    lengths = ["4"]
    path = "stay"
    varies = false
    """
    score = composed(f'drill = "one"\ndrone = "fifth"\n{BEST}', own=own).score
    (tone,) = score.drone
    note = score.solo[0].pitch
    assert str(note) == "C6"
    # G5 lies a fourth below C6: 4/3. G6 is above the highest drone, G4 has 8/3: m = 3 alike, and G5 is nearer
    assert str(tone.pitch) == "G5"


@given(
    st.sampled_from(sorted(patterns().drills)),
    st.sampled_from(sorted(name for name, one in patterns().drones.items() if one.degrees)),
    st.sampled_from(MAJOR_KEYS + MINOR_KEYS),
    st.sampled_from(rows()),
    st.sampled_from(("piccolo", "clarinet", "tuba")),
)
@settings(max_examples=EXAMPLES, deadline=None)
def test_it_only_moves_a_drone_by_octaves(drill: str, drone: str, key: str, played: Variant, instrument: str) -> None:
    asked = key if patterns().drills[drill].keyed else None
    block, top = f'drill = "{drill}"\ndrone = "{drone}"', f'instrument = "{instrument}"'
    usual = drawn(block, key=asked, played=played, top=top).score.drone
    best = drawn(f"{block}\n{BEST}", key=asked, played=played, top=top).score.drone
    names = [{str(tone.pitch.name) for tone in part} for part in (usual, best)]
    assert names[0] == names[1]
    for tone in best:
        assert Beats(0) < tone.length
