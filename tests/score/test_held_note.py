"""One note held under every chord that contains it, in both roles: the chord comes to you, or you go to it.

Referee  triads that hold a note: 3 major, 3 minor, 3 diminished, 1 augmented over all twelve notes, by counting
         half-steps; 3 in a key, as root, third and fifth. The hexagon of the Tonnetz: the six major and minor triads
         around a note form a ring in which neighbours share two notes. Pure triads 4:5:6, 10:12:15, 25:30:36 and
         16:20:25; cents of 6/5, 5/4 and 3/2 against equal temperament by 1200 log2: +15.641, -13.686, +1.955.
"""

from __future__ import annotations

from collections import Counter
from itertools import pairwise
from math import floor, log2

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from droner.practice.pattern import Variant
from droner.score.score import Attack, ChordEvent, Score, SoloNote
from droner.units import Beats
from tests.score.composed import MAJOR_KEYS, MINOR_KEYS, composed, drawn, manner, patterns, played_bars, rows

HELD = 'drill = "held note"'
AROUND, GO = ("around your note", "ten around your note"), ("go to the chord", "go to the ten chords")
KEYS = MAJOR_KEYS + MINOR_KEYS
TEMPERAMENTS = ("just", "equal", "meantone", "vallotti")
PURE = {(4, 7): (5 / 4, 3 / 2), (3, 7): (6 / 5, 3 / 2), (3, 6): (6 / 5, 36 / 25), (4, 8): (5 / 4, 25 / 16)}
"""Half-steps of third and fifth above the root, and their ratios."""
NAMES = {(4, 7): "major", (3, 7): "minor", (3, 6): "diminished", (4, 8): "augmented"}
FLOAT_SLACK = 2e-12
"""Relative; cents are rounded to nine places, which is a quarter of this."""
CENTS_SLACK = 0.001
"""The tables print three decimals."""
EXAMPLES = 60


def held(changes: str, key: str = "C major", temperament: str = "just", drill: str = HELD, more: str = "") -> Score:
    top = f'[tuning]\ntemperament = "{temperament}"'
    return composed(f'{drill}\nchanges = "{changes}"\n{more}', key=key, top=top, played=manner()).score


def steps(chord: ChordEvent) -> tuple[int, int]:
    """Half-steps from the root, by its symbol, to third and fifth."""
    root = next(tone for tone in chord.tones if is_root(chord, str(tone.pitch.name)))
    third, fifth = sorted((tone.pitch.midi - root.pitch.midi) % 12 for tone in chord.tones if tone is not root)
    return third, fifth


def is_root(chord: ChordEvent, name: str) -> bool:
    return chord.symbol in {f"{name}{sign}" for sign in ("", "m", "dim", "aug")}


def pitch_classes(chord: ChordEvent) -> frozenset[int]:
    return frozenset(tone.pitch.midi % 12 for tone in chord.tones)


def cents(hz: float, midi: int, a4_hz: float = 440.0) -> float:
    """Against equal temperament, in which A4 is MIDI 69 (ISO 16)."""
    return 1200 * log2(hz / a4_hz) - 100 * (midi - 69)


@pytest.mark.parametrize("key", KEYS)
@pytest.mark.parametrize("changes", [AROUND[1], GO[1]])
def test_all_ten_triads_of_the_note_come_before_one_comes_again(changes: str, key: str) -> None:
    score = held(changes, key)
    ten = score.changes[:10]
    assert Counter(NAMES[steps(chord)] for chord in ten) == {"major": 3, "minor": 3, "diminished": 3, "augmented": 1}
    assert len({pitch_classes(chord) for chord in ten}) == 10
    note = score.solo[0].pitch.midi % 12
    assert all(note in pitch_classes(chord) for chord in score.changes)


@pytest.mark.parametrize("key", KEYS)
def test_the_six_major_and_minor_triads_go_round_the_note_two_notes_staying_each_time(key: str) -> None:
    six = held(AROUND[1], key).changes[:6]
    assert {NAMES[steps(chord)] for chord in six} == {"major", "minor"}
    for now, following in pairwise([*six, six[0]]):
        assert len(pitch_classes(now) & pitch_classes(following)) == 2


@pytest.mark.parametrize(
    ("key", "symbols"),
    # the tonic as root, third and fifth of the key's triads, and home at the end (theory)
    [("C major", ["C", "Am", "F"]), ("A minor", ["Am", "F", "Dm"]), ("Eb major", ["Eb", "Cm", "Ab"])],
)
def test_in_the_key_the_note_is_root_third_and_fifth_a_bar_each_and_home_at_the_end(
    key: str, symbols: list[str]
) -> None:
    score = held(AROUND[0], key)
    assert [chord.symbol for chord in score.changes] == [*symbols * 3, *symbols[:2], symbols[0]]
    assert [chord.onset.exact for chord in score.changes] == played_bars(score)
    assert {chord.length for chord in score.changes} == {Beats(4)}


def test_chords_may_last_for_several_bars() -> None:
    own = '[changes]\n"slow" = { about = "Two bars each.", kind = "held note", bars = 2 }'
    score = composed(f'{HELD}\nchanges = "slow"', own=own).score
    assert [chord.symbol for chord in score.changes] == ["C", "Am", "F", "C", "Am", "F", "C"]
    assert [chord.length.exact for chord in score.changes] == [8, 8, 8, 8, 8, 4, 4], "twelve bars, home in the last"


@pytest.mark.parametrize("temperament", TEMPERAMENTS)
@pytest.mark.parametrize("changes", AROUND + GO)
def test_every_chord_is_pure_whatever_the_temperament(changes: str, temperament: str) -> None:
    for key in ("C major", "F# minor", "Ab major"):
        for chord in held(changes, key, temperament).changes:
            root = next(tone for tone in chord.tones if is_root(chord, str(tone.pitch.name)))
            for tone in chord.tones:
                above = (tone.pitch.midi - root.pitch.midi) % 12
                wanted = dict(zip((0, *steps(chord)), (1.0, *PURE[steps(chord)]), strict=True))[above]
                octaves = log2(tone.hz / root.hz / wanted)
                assert octaves == pytest.approx(floor(octaves + 0.5), abs=FLOAT_SLACK * 2), chord.symbol


@pytest.mark.parametrize("temperament", TEMPERAMENTS)
@pytest.mark.parametrize("changes", AROUND)
def test_around_your_note_the_note_stays_where_the_tuning_puts_it(changes: str, temperament: str) -> None:
    for key in KEYS:
        score, alone = held(changes, key, temperament), held("none", key, temperament)
        name = score.solo[0].pitch.name
        assert len(score.solo) == 4
        for note, plain in zip(score.solo, alone.solo, strict=True):
            assert note.hz == pytest.approx(plain.hz, rel=FLOAT_SLACK)
        places = {tone.hz for chord in score.changes for tone in chord.tones if tone.pitch.name == name}
        assert len(places) == 1, "held through, not struck again"


def test_going_round_two_tones_of_each_chord_are_held_through() -> None:
    """What two neighbours share is one frequency to the last figure."""
    for now, following in pairwise(held(AROUND[1]).changes[:6]):
        assert len({tone.hz for tone in now.tones} & {tone.hz for tone in following.tones}) == 2


PLACES = {0: 0.0, 4: -13.686, 3: 15.641, 7: 1.955}
"""Cents of the note by its half-steps above the root of a major or minor chord."""


@pytest.mark.parametrize("temperament", ["just", "equal"])
@pytest.mark.parametrize("key", KEYS)
def test_when_you_go_to_the_chord_its_root_is_in_tune_with_a_tuner_and_your_note_is_not(
    key: str, temperament: str
) -> None:
    score = held(GO[1], key, temperament)
    seen = set()
    for chord in score.changes[:6]:
        root = next(tone for tone in chord.tones if is_root(chord, str(tone.pitch.name)))
        assert cents(root.hz, root.pitch.midi) == pytest.approx(0, abs=CENTS_SLACK)
        note = sounding_at(score, chord.onset)
        above = (note.pitch.midi - root.pitch.midi) % 12
        assert cents(note.hz, note.pitch.midi) == pytest.approx(PLACES[above], abs=CENTS_SLACK), chord.symbol
        seen.add(above)
    assert seen == set(PLACES)


def sounding_at(score: Score, moment: Beats) -> SoloNote:
    return next(note for note in score.solo if note.onset <= moment < note.onset + note.length)


@pytest.mark.parametrize("drill", [HELD, 'drill = "swell"\ntempo = 80'])
def test_a_note_that_goes_is_parted_under_slurs_and_fills_the_same_time(drill: str) -> None:
    whole, parts = held("none", drill=drill).solo, held(GO[0], drill=drill).solo
    assert len(parts) > len(whole)
    starts = {note.onset: note for note in whole}
    for before, after in pairwise(parts):
        if after.onset in starts:
            assert after.attack is starts[after.onset].attack
        else:
            assert after.attack is Attack.SLUR
            assert before.onset + before.length == after.onset
            assert before.sounded == before.length
            assert before.hz != after.hz
    for note in whole:
        inside = [part for part in parts if note.onset <= part.onset < note.onset + note.length]
        assert sum((part.length for part in inside), Beats(0)) == note.length
        assert sum((part.sounded for part in inside), Beats(0)) == note.sounded


def test_a_swell_runs_on_through_the_parts() -> None:
    parts = held(GO[0], drill='drill = "swell"').solo
    for before, after in pairwise(parts):
        if after.attack is Attack.SLUR:
            assert before.shape[-1][1] == after.velocity == after.shape[0][1]
    loudest = max(velocity for part in parts for _, velocity in part.shape)
    assert loudest == max(velocity for _, velocity in held("none", drill='drill = "swell"').solo[0].shape)


@given(
    st.sampled_from(sorted(patterns().drills)),
    st.sampled_from(AROUND + GO),
    st.sampled_from(KEYS),
    st.sampled_from(rows()),
    st.sampled_from(("flute", "clarinet", "tuba")),
    st.sampled_from(("", 'meter = "3/4"', "glide = [80, 110]", "speeds = [60, 100]\ncount_in = 0")),
)
@settings(max_examples=EXAMPLES, deadline=None)
def test_under_any_drill_each_chord_holds_the_note_that_sounds_there_and_lies_inside(
    drill: str, changes: str, key: str, played: Variant, instrument: str, more: str
) -> None:
    block = f'drill = "{drill}"\nchanges = "{changes}"\n{more}'
    keyed = patterns().drills[drill].keyed
    level = 'level = "advanced"'
    made = drawn(block, key=key if keyed else None, played=played, top=f'instrument = "{instrument}"\n{level}')
    score = made.score
    for chord in score.changes:
        begun = [note for note in score.solo if note.onset <= chord.onset] or score.solo[:1]
        assert str(begun[-1].pitch.name) in {str(tone.pitch.name) for tone in chord.tones}
        assert Beats(0) <= chord.onset < chord.onset + chord.length <= score.length
    for before, after in pairwise(score.solo):
        assert before.onset + before.length <= after.onset
        assert Beats(0) < before.sounded <= before.length
    assert str(score.solo[-1].pitch.name) in {str(tone.pitch.name) for tone in score.changes[-1].tones}
