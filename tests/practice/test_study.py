"""Weigh the written studies: do they add up, breathe, sing, and go where their harmony goes?

Referee music21 spells the scales and the chords of every numeral, and is not droner's own theory. The rules of melody
        checked here (strong beats belong to the chord or are suspensions, passing notes move by step, large leaps turn
        back, one summit about two thirds in) are common practice, no source.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from music21 import key as m21_key
from music21 import roman as m21_roman

FILE = Path(__file__).parents[2] / "patterns" / "study.toml"
DRILLS: dict[str, dict[str, Any]] = tomllib.loads(FILE.read_text(encoding="utf-8"))["drill"]
BAR = {"6/8": Fraction(3), "3/4": Fraction(3)}
STRONG = {"6/8": Fraction(3, 2), "3/4": Fraction(3)}
"""Quarters between strong beats: both beats of 6/8, the first of 3/4."""
BEAT = {"6/8": Fraction(3, 2), "3/4": Fraction(1)}
BARS = {"curving study": 32, "little curving study": 16}
COMPASS = {"curving study": (-3, 11), "little curving study": (-2, 8)}
AIR_SECONDS = 12
"""A breath at medium strength (from memory)."""
SUMMIT = (Fraction(6, 10), Fraction(3, 4))
"""About two thirds of the way."""
LARGEST_LEAP = 5
"""A sixth, in steps."""
LARGE_LEAP = 4
"""From a fifth on, the line turns back by less than the leap."""
CASES = [(name, part) for name in BARS for part in ("study", "study_minor")]

each_study = pytest.mark.parametrize(("name", "part"), CASES)


@dataclass(frozen=True)
class Sung:
    """A note as written and as it sounds over C: staff steps and semitones from the tonic, and its chord."""

    bar: int
    onset: Fraction
    length: Fraction
    steps: int
    semitones: int
    chord: frozenset[int]
    changes: bool
    """Another chord starts with it."""

    @property
    def belongs(self) -> bool:
        return self.semitones % 12 in self.chord


@lru_cache(maxsize=256)
def chord_of(numeral: str, tonic: str) -> frozenset[int]:
    chord = m21_roman.RomanNumeral(numeral.replace("°", "o"), m21_key.Key(tonic))
    return frozenset(pitch.pitchClass for pitch in chord.pitches)


@lru_cache(maxsize=64)
def semitones_of(degree: int, tonic: str) -> int:
    """Semitones of a scale degree 1..7 above C, natural minor in minor."""
    return int(m21_key.Key(tonic).pitchFromDegree(degree).pitchClass)


def bars_of(name: str, part: str) -> list[tuple[list[str], list[str], bool]]:
    """Numerals, notes and breath of each bar."""
    split = (text.removesuffix("'").partition("|") for text in DRILLS[name][part])
    breaths = (text.endswith("'") for text in DRILLS[name][part])
    return [(left.split(), right.split(), breath) for (left, _, right), breath in zip(split, breaths, strict=True)]


def changes_of(numerals: list[str]) -> list[int]:
    """The shares of a bar in which another chord starts."""
    return [place for place, numeral in enumerate(numerals) if place == 0 or numeral != numerals[place - 1]]


@lru_cache(maxsize=8)
def sung(name: str, part: str) -> tuple[Sung, ...]:
    tonic = "c" if part == "study_minor" else "C"
    bar_length = BAR[DRILLS[name]["meter"]]
    notes = []
    for bar, (numerals, written, _) in enumerate(bars_of(name, part)):
        onset = Fraction(0)
        for text in written:
            found = re.fullmatch(r"([#b]?)(-[2-9]|[1-9]\d?):(\d+(?:/\d+)?)", text)
            assert found, text
            sign, degree, length = found.groups()
            steps = int(degree) - 1 if int(degree) > 0 else int(degree) + 1
            semitones = 12 * (steps // 7) + semitones_of(steps % 7 + 1, tonic) + {"#": 1, "b": -1, "": 0}[sign]
            share = bar_length / len(numerals)
            chord = chord_of(numerals[int(onset // share)], tonic)
            place = bar * bar_length + onset
            changes = onset in {share * number for number in changes_of(numerals)}
            notes.append(Sung(bar + 1, place, Fraction(length), steps, semitones, chord, changes))
            onset += Fraction(length)
        assert onset == bar_length, f"bar {bar + 1} does not fill the meter"
    return tuple(notes)


def phrases(name: str, part: str) -> list[list[Sung]]:
    ends = [bar for bar, (*_, breath) in enumerate(bars_of(name, part), 1) if breath]
    return [[note for note in sung(name, part) if start < note.bar <= end] for start, end in pairwise([0, *ends])]


@each_study
def test_every_bar_fills_the_meter_and_there_are_so_many(name: str, part: str) -> None:
    assert sung(name, part)[-1].bar == BARS[name] == len(DRILLS[name][part])


@each_study
def test_no_chord_starts_inside_a_note(name: str, part: str) -> None:
    chords = sum(len(changes_of(numerals)) for numerals, *_ in bars_of(name, part))
    assert sum(note.changes for note in sung(name, part)) == chords


@each_study
def test_it_stays_in_its_compass(name: str, part: str) -> None:
    degrees = [note.steps + 1 if note.steps >= 0 else note.steps - 1 for note in sung(name, part)]
    assert (min(degrees), max(degrees)) == COMPASS[name]


@each_study
def test_strong_beats_belong_to_the_chord_or_are_suspensions(name: str, part: str) -> None:
    strong = STRONG[DRILLS[name]["meter"]]
    for before, note, after in zip(sung(name, part), sung(name, part)[1:], sung(name, part)[2:], strict=False):
        if (note.changes or note.onset % strong == 0) and not note.belongs:
            assert abs(note.steps - before.steps) <= 1, f"bar {note.bar}: held over or reached by step"
            assert after.steps - note.steps == -1, f"bar {note.bar}: a suspension falls by step"
            assert after.belongs, f"bar {note.bar}: into the chord"


@each_study
def test_there_are_prepared_suspensions(name: str, part: str) -> None:
    held_over = [
        note
        for before, note in pairwise(sung(name, part))
        if note.changes and not note.belongs and before.semitones == note.semitones and before.belongs
    ]
    assert len(held_over) >= BARS[name] // 8


@each_study
def test_notes_outside_the_chord_pass_by_step(name: str, part: str) -> None:
    # reached by step; left by step (a half-step on the same degree too), or over the next third in the same direction
    for before, note, after in zip(sung(name, part), sung(name, part)[1:], sung(name, part)[2:], strict=False):
        if not note.belongs:
            reached, left = note.steps - before.steps, after.steps - note.steps
            assert abs(reached) <= 1, f"bar {note.bar}"
            by_step = abs(after.semitones - note.semitones) in {1, 2}
            assert by_step or (abs(left) == 2 and left * reached > 0), f"bar {note.bar}"


@each_study
def test_leaps_stay_within_a_sixth_and_large_ones_turn_back(name: str, part: str) -> None:
    for phrase in phrases(name, part):
        moves = [after.steps - before.steps for before, after in pairwise(phrase)]
        assert max(map(abs, moves)) <= LARGEST_LEAP
        for move, following in pairwise([*moves, 0]):
            if abs(move) >= LARGE_LEAP:
                assert move * following < 0
                assert abs(following) < abs(move)


@each_study
def test_no_step_of_the_line_is_augmented(name: str, part: str) -> None:
    # a second of three semitones or a tritone is hard to sing inside a phrase
    for phrase in phrases(name, part):
        for before, after in pairwise(phrase):
            steps, semitones = abs(after.steps - before.steps), abs(after.semitones - before.semitones)
            assert not (steps == 1 and semitones > 2)
            assert semitones != 6


@each_study
def test_every_phrase_fits_the_air_and_has_a_last_note_to_breathe_in(name: str, part: str) -> None:
    drill = DRILLS[name]
    beat = BEAT[drill["meter"]]
    seconds_a_quarter = Fraction(60) / drill["tempo"] / beat
    assert sum(len(phrase) for phrase in phrases(name, part)) == len(sung(name, part))
    for phrase in phrases(name, part):
        assert sum(note.length for note in phrase) * seconds_a_quarter <= AIR_SECONDS
        assert phrase[-1].length >= beat


@each_study
def test_one_summit_about_two_thirds_in(name: str, part: str) -> None:
    notes = sung(name, part)
    top = max(note.semitones for note in notes)
    summits = [note for note in notes if note.semitones == top]
    whole = notes[-1].onset + notes[-1].length
    assert len(summits) == 1
    assert SUMMIT[0] <= summits[0].onset / whole <= SUMMIT[1]
    assert summits[0].length >= BEAT[DRILLS[name]["meter"]]


@each_study
def test_each_phrase_before_the_summit_reaches_up_and_the_end_lies_low(name: str, part: str) -> None:
    tops = [max(note.semitones for note in phrase) for phrase in phrases(name, part)]
    assert tops.index(max(tops)) >= len(tops) // 2
    assert tops[0] < tops[1] < max(tops)
    assert tops[-1] < max(tops)


@each_study
def test_it_comes_home(name: str, part: str) -> None:
    last = bars_of(name, part)[-1]
    dominant = next(
        numeral
        for numerals, *_ in reversed(bars_of(name, part))
        for numeral in reversed(numerals)
        if numeral.upper() != "I"
    )
    final = sung(name, part)[-1]
    assert last[0] in (["I"], ["i"])
    assert dominant == "V7"
    assert final.semitones == 0
    assert final.length == BAR[DRILLS[name]["meter"]]


@pytest.mark.parametrize("part", ["study", "study_minor"])
def test_the_long_study_travels(part: str) -> None:
    tonic = "c" if part == "study_minor" else "C"
    numerals = {numeral for numerals, *_ in bars_of("curving study", part) for numeral in numerals}
    assert len({chord_of(numeral, tonic) for numeral in numerals}) >= 8
    assert sum("/" in numeral for numeral in numerals) >= 3
    outside = {semitones_of(degree, tonic) for degree in range(1, 8)}
    assert any(note.semitones % 12 not in outside for note in sung("curving study", part))


def test_the_falling_sequence_is_the_same_figure_a_step_lower_each_time() -> None:
    bars = [[note.steps for note in sung("curving study", "study") if note.bar == bar] for bar in (9, 10, 11)]
    assert bars[1] == [steps - 1 for steps in bars[0]]
    assert bars[2] == [steps - 1 for steps in bars[1]]


@pytest.mark.parametrize("name", BARS)
def test_minor_rises_to_the_tonic_through_the_leading_note(name: str) -> None:
    # wherever the dominant, G with its B, sounds over C
    rising = [
        before
        for phrase in phrases(name, "study_minor")
        for before, after in pairwise(phrase)
        if after.steps % 7 == 0 and after.steps - before.steps == 1 and {7, 11} <= before.chord
    ]
    assert rising
    assert all(note.semitones % 12 == 11 for note in rising)


@pytest.mark.parametrize("name", BARS)
def test_the_row_says_how_it_is_played(name: str) -> None:
    drill = DRILLS[name]
    assert drill["staple"] == "study"
    assert drill["varies"] is False
    assert drill["changes"] == "written"
    assert drill["about"]
