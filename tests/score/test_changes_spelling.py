"""Which chords they are: numerals, symbols and the studies' harmony.

Referee  music21 (BSD): its RomanNumeral in the sounding key, its reading of a chord symbol. The studies' numerals are
         read from the pattern file with tomllib, without droner's own reader.
"""

from __future__ import annotations

import tomllib
from fractions import Fraction
from functools import lru_cache
from types import ModuleType

import pytest

from droner.practice.reading.files import patterns_folder
from droner.score.score import ChordEvent
from tests.score.composed import MAJOR_KEYS, MINOR_KEYS, composed, manner

STUDIES = {"curving study": Fraction(3), "little curving study": Fraction(3)}
"""Each study and the quarters in its bar: 6/8 and 3/4."""
SOME_KEYS = ("C major", "F# major", "Ab major", "C minor", "G# minor", "Bb minor")


def spelled(event: ChordEvent) -> set[str]:
    return {str(tone.pitch.name) for tone in event.tones}


@lru_cache(maxsize=4096)
def by_music21(music21: ModuleType, numeral: str, key: str) -> frozenset[str]:
    tonic, mode = key.split()
    tonic = tonic.replace("b", "-")
    judge_key = music21.key.Key(tonic.lower() if mode == "minor" else tonic)
    judge = music21.roman.RomanNumeral(numeral.replace("°", "o"), judge_key)
    return frozenset(pitch.name.replace("-", "b") for pitch in judge.pitches)


def own_row(kind: str, name: str) -> dict[str, list[str]]:
    text = (patterns_folder() / "changes.toml").read_text(encoding="utf-8")
    row: dict[str, list[str]] = tomllib.loads(text)[kind][name]
    return row


@pytest.mark.parametrize("name", ["one four five", "round by two", "plain cadence", "warm degrees"])
def test_each_numeral_is_the_chord_that_music21_knows_by_it(music21: ModuleType, name: str) -> None:
    for key in MAJOR_KEYS + MINOR_KEYS:
        allowed = own_row("changes", name)[key.split()[1]]
        made = composed(f'drill = "turning scale"\nchanges = "{name}"', key=key, played=manner("one a beat"))
        named = [chord for chord in made.score.changes if chord.numeral]
        assert named
        for chord in named:
            assert chord.numeral in allowed
            assert spelled(chord) == by_music21(music21, chord.numeral, key), (key, chord.numeral)


@pytest.mark.parametrize("instrument", ["clarinet", "alto saxophone", "horn"])
def test_for_a_transposing_player_they_are_the_chords_of_the_sounding_key(music21: ModuleType, instrument: str) -> None:
    for key in MAJOR_KEYS + MINOR_KEYS:
        block = 'drill = "turning scale"\nchanges = "round by two"'
        score = composed(block, key=key, played=manner("one a beat"), top=f'instrument = "{instrument}"').score
        for chord in score.changes:
            assert spelled(chord) == by_music21(music21, chord.numeral, str(score.keys[0].sounding)), key


def test_a_symbol_reads_as_the_notes_that_sound(music21: ModuleType) -> None:
    seen: dict[str, set[str]] = {}
    for key in MAJOR_KEYS + MINOR_KEYS:
        for block in (
            'drill = "sevenths on every degree"\nchanges = "as played"',
            'drill = "turning scale"\nchanges = "warm degrees"',
            'drill = "curving study"',
        ):
            for chord in composed(block, key=key, played=manner("one a beat")).score.changes:
                assert seen.setdefault(chord.symbol, spelled(chord)) == spelled(chord)
    kinds = {symbol.lstrip("ABCDEFG").lstrip("#b") or "major" for symbol in seen}
    assert {"major", "m", "7", "m7", "maj7", "m7b5", "dim7", "dim"} <= kinds
    for symbol, notes in seen.items():
        flats = len(symbol[1:]) - len(symbol[1:].lstrip("b"))
        read = symbol[0] + "-" * flats + symbol[1 + flats :]
        if "m(maj7)" in read or "maj7#5" in read:
            continue  # signs that music21 writes otherwise
        judge = music21.harmony.ChordSymbol(read)
        assert {pitch.name.replace("-", "b") for pitch in judge.pitches} == notes, symbol


@pytest.mark.parametrize("key", SOME_KEYS)
@pytest.mark.parametrize("study", STUDIES)
def test_a_studys_harmony_is_what_its_bars_say(music21: ModuleType, study: str, key: str) -> None:
    text = (patterns_folder() / "study.toml").read_text(encoding="utf-8")
    bars = tomllib.loads(text)["drill"][study]["study_minor" if key.endswith("minor") else "study"]
    made = composed(f'drill = "{study}"\ntempo = 120\ncount_in = 1', key=key)
    assert len(bars) == max(bar.number for bar in made.score.bars), "whole phrases: no bar is added at 120"
    first = next(bar.onset.exact for bar in made.score.bars if bar.number)
    for number, bar in enumerate(bars):
        numerals = bar.partition("|")[0].split()
        share = STUDIES[study] / len(numerals)
        for place, numeral in enumerate(numerals):
            moment = first + number * STUDIES[study] + place * share
            (sounding,) = [
                chord
                for chord in made.score.changes
                if chord.onset.exact <= moment < (chord.onset + chord.length).exact
            ]
            assert spelled(sounding) == by_music21(music21, numeral, key), (number + 1, numeral)
