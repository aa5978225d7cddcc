"""The solo part: loudness by height, swells, ties in a study, and where each note sounds.

Referee  velocities of the dynamic signs: a common notation-program table (p 49, mf 80, f 96). Just ratios: five-limit
         arithmetic. The studies' ties are read from the pattern file with tomllib, without droner's own reader.
"""

from __future__ import annotations

import tomllib
from fractions import Fraction
from itertools import pairwise
from math import log2

import pytest

from droner.practice.reading.files import patterns_folder
from droner.score.score import Attack
from droner.units import Beats
from tests.score.composed import MAJOR_KEYS, MINOR_KEYS, composed, manner, phrases_of, rows

P, MF, F = 49, 80, 96
FLOAT_SLACK = 1e-12
"""Relative; a few roundings of a 53-bit fraction."""
MAJOR = [Fraction(*ratio) for ratio in ((1, 1), (9, 8), (5, 4), (4, 3), (3, 2), (5, 3), (15, 8), (2, 1))]
MELODIC_MINOR_UP = [Fraction(*ratio) for ratio in ((1, 1), (9, 8), (6, 5), (4, 3), (3, 2), (5, 3), (15, 8), (2, 1))]
NATURAL_MINOR_DOWN = [Fraction(*ratio) for ratio in ((2, 1), (9, 5), (8, 5), (3, 2), (4, 3), (6, 5), (9, 8), (1, 1))]
OCTAVE = 'drill = "octave scale"\nchanges = "none"'


@pytest.mark.parametrize(("dynamic", "velocity"), [("medium", MF), ("soft", P), ("loud", F)])
def test_a_level_dynamic_is_the_same_on_every_note(dynamic: str, velocity: int) -> None:
    solo = composed('drill = "turning scale"', played=manner(dynamic=dynamic)).score.solo
    assert {note.velocity for note in solo} == {velocity}


@pytest.mark.parametrize(("dynamic", "low", "high"), [("with the contour", P, F), ("against the contour", F, P)])
def test_a_contour_goes_straight_from_the_lowest_note_to_the_highest(dynamic: str, low: int, high: int) -> None:
    solo = composed('drill = "turning scale"', played=manner(dynamic=dynamic)).score.solo
    lowest, highest = min(note.pitch.midi for note in solo), max(note.pitch.midi for note in solo)
    for note in solo:
        share = (note.pitch.midi - lowest) / (highest - lowest)
        assert abs(note.velocity - (low + share * (high - low))) <= 0.5, "rounded to a whole velocity"
    for before, after in pairwise(solo):
        rises, louder = after.pitch.midi > before.pitch.midi, after.velocity - before.velocity
        assert louder >= 0 if rises == (high > low) else louder <= 0


def test_a_swell_grows_to_the_middle_of_the_note_and_dies_away() -> None:
    solo = composed('drill = "swell"').score.solo
    assert len(solo) == 4
    for note in solo:
        assert note.velocity == P
        assert note.shape == ((Fraction(0), P), (Fraction(1, 2), F), (Fraction(1), P))
        assert note.length == Beats(8)


def test_measured_vibrato_has_two_to_six_pulses_a_beat() -> None:
    solo = composed('drill = "measured vibrato"').score.solo
    assert [note.pulses for note in solo] == [2, 3, 4, 5, 6]


def test_other_notes_are_level() -> None:
    solo = composed('drill = "turning scale"').score.solo
    assert {(note.shape, note.pulses) for note in solo} == {((), 0)}


@pytest.mark.parametrize("key", MAJOR_KEYS)
def test_a_major_scale_in_just_tuning_has_the_pure_ratios(key: str) -> None:
    solo = composed(OCTAVE, key=key).score.solo
    assert [note.hz / solo[0].hz for note in solo] == pytest.approx(
        [float(ratio) for ratio in MAJOR + MAJOR[-2::-1]], rel=FLOAT_SLACK
    )


@pytest.mark.parametrize("key", MINOR_KEYS)
def test_a_melodic_minor_scale_in_just_tuning_has_the_pure_ratios_of_both_its_forms(key: str) -> None:
    solo = composed(OCTAVE, key=key).score.solo
    assert [note.hz / solo[0].hz for note in solo] == pytest.approx(
        [float(ratio) for ratio in MELODIC_MINOR_UP + NATURAL_MINOR_DOWN[1:]], rel=FLOAT_SLACK
    )


def test_the_tonic_of_just_tuning_stands_where_a_tuner_shows_nought() -> None:
    """D4 at A4 = 442 is 295.000 Hz (ISO 16 by its formula), for the flute; so also for a clarinet reading E."""
    for instrument, key in (("flute", "D major"), ("clarinet", "E major")):
        top = f'instrument = "{instrument}"\n[tuning]\na4 = 442'
        solo = composed(OCTAVE, key=key, top=top).score.solo
        tonic = next(note for note in solo if str(note.pitch) in {"D4", "D3"})
        assert tonic.hz * 2 ** (4 - tonic.pitch.octave) == pytest.approx(442 * 2 ** (-7 / 12), rel=FLOAT_SLACK)


def test_in_equal_temperament_every_half_step_is_the_twelfth_root_of_two() -> None:
    solo = composed(OCTAVE, top='[tuning]\ntemperament = "equal"').score.solo
    for note in solo:
        assert note.hz == pytest.approx(440 * 2 ** ((note.pitch.midi - 69) / 12), rel=FLOAT_SLACK)


@pytest.mark.parametrize(
    ("instrument", "numbers"),
    [
        # what one fingering gives: all harmonics of an open tube, the odd ones of a stopped one (acoustics of pipes)
        ("flute", [1, 2, 3, 4, 5, 6, 7]),
        ("clarinet", [1, 3, 5, 7]),
    ],
)
def test_partials_are_the_pure_harmonics_of_the_fingering(instrument: str, numbers: list[int]) -> None:
    made = composed('drill = "partials"', key=None, top=f'instrument = "{instrument}"')
    phrase = phrases_of(made.score)[0]
    found = [note.hz / phrase[0].hz for note in phrase]
    assert found == pytest.approx(numbers[: len(found)], rel=FLOAT_SLACK)
    assert len(found) >= 3


def test_the_seventh_partial_is_31_cents_under_the_equal_one() -> None:
    """31.174 cents (arithmetic): what the player must not mistake for a bad ear."""
    solo = phrases_of(composed('drill = "partials"', key=None).score)[0]
    seventh = next(note for note in solo if note.hz / solo[0].hz > 6.5)
    equal = 440 * 2 ** ((seventh.pitch.midi - 69) / 12)
    assert 1200 * log2(seventh.hz / equal) == pytest.approx(-31.174, abs=0.001)


def test_in_a_drill_that_climbs_by_half_steps_every_cell_is_pure_over_its_own_tonic() -> None:
    """5/4 and 3/2 over each of the twelve tonics, and each tonic where equal temperament puts it."""
    made = composed('drill = "five-note cells"', played=manner("one a beat"))
    laid = [timed.laid for placed in made.item.performance.repeats[0].phrases for timed in placed.phrase.notes]
    pure = {0: 1.0, 2: 9 / 8, 4: 5 / 4, 5: 4 / 3, 7: 3 / 2}
    tonics = set()
    for note, cell in zip(made.score.solo, laid, strict=True):
        tonic_hz = 440 * 2 ** ((cell.root.midi - 69) / 12)
        assert note.hz / tonic_hz == pytest.approx(pure[note.pitch.midi - cell.root.midi], rel=FLOAT_SLACK)
        tonics.add(cell.root.midi)
    assert len(tonics) == 13


@pytest.mark.parametrize("name", ["curving study", "little curving study"])
@pytest.mark.parametrize("part", ["study", "study_minor"])
def test_a_studys_suspensions_are_held_and_not_struck_again(name: str, part: str) -> None:
    """A note that the next one repeats, inside a breath, is prepared: one long note. Counted in the file itself."""
    text = (patterns_folder() / "study.toml").read_text(encoding="utf-8")
    bars = tomllib.loads(text)["drill"][name][part]
    written: list[list[tuple[str, Fraction]]] = [[]]
    for bar in bars:
        notes = bar.partition("|")[2].removesuffix("'").split()
        written[-1] += [(note.split(":")[0], Fraction(note.split(":")[1])) for note in notes]
        if bar.endswith("'"):
            written.append([])
    held = [_held(breath) for breath in written if breath]
    made = composed(f'drill = "{name}"\ntempo = 120', key="D major" if part == "study" else "D minor")
    assert [len(phrase) for phrase in phrases_of(made.score)] == [len(breath) for breath in held]
    for phrase, breath in zip(phrases_of(made.score), held, strict=True):
        assert [note.length.exact for note in phrase[:-1]] == [length for _, length in breath[:-1]]
        assert [note.attack for note in phrase] == [Attack.TONGUE] + [Attack.SLUR] * (len(phrase) - 1)


def _held(breath: list[tuple[str, Fraction]]) -> list[tuple[str, Fraction]]:
    found: list[tuple[str, Fraction]] = []
    for degree, length in breath:
        if found and found[-1][0] == degree:
            found[-1] = (degree, found[-1][1] + length)
        else:
            found.append((degree, length))
    return found


def test_what_is_read_and_what_is_heard_lie_one_transposition_apart_in_every_variant() -> None:
    for row in rows()[::7]:
        solo = composed('drill = "turning scale"', played=row, top='instrument = "alto saxophone"').score.solo
        assert {(note.written - note.pitch).semitones for note in solo} == {9}, "a major sixth"
