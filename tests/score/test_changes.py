"""Where chords fall, that they fit what is played over them, and that common tones stay.

Referee  the drill itself: a chord that is spelled out holds the notes that spell it; a chord under a degree holds
         that degree. Home under the last note, no false relation between drill and chord, groups of 7/8 as
         2+2+3: common practice, no source. Names and places are taken from the score alone.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from droner.score.score import ChordEvent, Score, SoloNote
from droner.units import Beats
from tests.score.composed import MAJOR_KEYS, MINOR_KEYS, composed, manner, patterns, phrases_of, rows, rows_in_keys

KEYS = MAJOR_KEYS + MINOR_KEYS
SPELLED = (
    "triads on every degree",
    "sevenths on every degree",
    "every triad of each note",
    "dominant seventh resolving",
    "diminished seventh",
    "arpeggio through inversions",
    "broken arpeggio",
)
BY_DEGREE = sorted(name for name, one in patterns().changes.items() if one.kind == "by degree")
PROGRESSIONS = sorted(name for name, one in patterns().changes.items() if one.kind == "progression")


def names(chord: ChordEvent) -> set[str]:
    return {str(tone.pitch.name) for tone in chord.tones}


def under(score: Score, chord: ChordEvent) -> list[SoloNote]:
    """The notes that are played while a chord sounds, one held into it first."""
    end = chord.onset + chord.length
    return [note for note in score.solo if note.onset < end and note.onset + note.length > chord.onset]


def at(score: Score, moment: Beats) -> ChordEvent:
    (found,) = [chord for chord in score.changes if chord.onset <= moment < chord.onset + chord.length]
    return found


def in_bar(score: Score, moment: Beats) -> Beats:
    """How far into its bar a moment lies."""
    return moment - max(bar.onset for bar in score.bars if bar.onset <= moment)


@pytest.mark.parametrize("name", sorted(set(patterns().changes) - {"none", "written"}))
def test_chords_fill_every_time_through_and_none_sounds_in_a_count_in(name: str) -> None:
    for row in rows()[::5]:
        made = composed(f'drill = "octave scale"\nchanges = "{name}"\nspeeds = [60, 100]\ncount_in = 2', played=row)
        counted = [bar for bar in made.score.bars if bar.number == 0]
        sounding = sum((chord.length for chord in made.score.changes), Beats(0))
        assert sounding == made.score.length - sum((bar.meter.bar for bar in counted), Beats(0))
        for bar in counted:
            end = bar.onset + bar.meter.bar
            assert not [one for one in made.score.changes if one.onset < end and one.onset + one.length > bar.onset]


@pytest.mark.parametrize("name", sorted(set(patterns().changes) - {"none", "written"}))
def test_a_chord_is_never_struck_again_within_one_time_through(name: str) -> None:
    for row in rows()[::5]:
        score = composed(f'drill = "turning scale"\nchanges = "{name}"', played=row).score
        assert all(names(now) != names(following) for now, following in pairwise(score.changes))


@pytest.mark.parametrize("name", BY_DEGREE + PROGRESSIONS)
def test_what_two_chords_share_stays_where_it_is(name: str) -> None:
    for key in KEYS:
        score = composed(f'drill = "turning scale"\nchanges = "{name}"', key=key, played=manner()).score
        places: dict[str, set[int]] = {}
        for chord in score.changes:
            midi = [tone.pitch.midi for tone in chord.tones]
            assert midi == sorted(midi)
            assert midi[-1] - midi[0] < 12, "close position"
            for tone in chord.tones:
                places.setdefault(str(tone.pitch.name), set()).add(tone.pitch.midi)
        assert all(len(found) == 1 for found in places.values())


@pytest.mark.parametrize(("instrument", "lowest"), [("flute", "G3"), ("clarinet", "G3"), ("bassoon", "C3")])
def test_chords_lie_in_one_octave_under_the_player(instrument: str, lowest: str) -> None:
    """G3 is MIDI 55 and C3 48 (MIDI Tuning Standard: C4 60)."""
    bottom = {"G3": 55, "C3": 48}[lowest]
    top = f'instrument = "{instrument}"'
    for key in MAJOR_KEYS:
        score = composed('drill = "octave scale"\nchanges = "warm degrees"', key=key, top=top).score
        assert all(bottom <= tone.pitch.midi < bottom + 12 for chord in score.changes for tone in chord.tones)


@pytest.mark.parametrize("name", BY_DEGREE)
def test_the_chord_under_a_degree_holds_the_note_that_sounds_there(name: str) -> None:
    for key, row in rows_in_keys():
        score = composed(f'drill = "turning scale"\nchanges = "{name}"', key=key, played=row).score
        for chord in score.changes:
            assert str(under(score, chord)[0].pitch.name) in names(chord), (key, chord.symbol)


@pytest.mark.parametrize("name", BY_DEGREE)
def test_no_chord_holds_a_note_of_which_the_drill_first_plays_another_form(name: str) -> None:
    """No B natural in the chord under a falling B flat: a false relation. In minor it would be there every day."""
    for key, row in rows_in_keys(MINOR_KEYS):
        made = composed(f'drill = "turning scale"\nchanges = "{name}"', key=key, played=row)
        step = made.item.meter.bar if made.item.changes.every == "bar" else made.item.meter.beat
        for chord in made.score.changes:
            first: dict[str, str] = {}
            for note in under(made.score, chord):
                if note.onset < chord.onset + step:
                    first.setdefault(str(note.pitch.name)[0], str(note.pitch.name))
            for heard in names(chord):
                assert first.get(heard[0], heard) == heard, (key, row.number, chord.symbol)


def test_melodic_minor_rises_over_the_major_fourth_and_falls_over_the_minor_fifth() -> None:
    """C minor: A natural over F major, B flat over G minor (chords of the two forms: common practice, no source)."""
    made = composed('drill = "octave scale"\nchanges = "under each beat"', key="C minor", played=manner("one a beat"))
    heard = {}
    rising = True
    for note in made.score.solo:
        heard[str(note.pitch.name), rising] = at(made.score, note.onset).symbol
        rising = rising and str(note.pitch) != "C5"
    assert heard["A", True] == "F"
    assert heard["Ab", False] == "Fm"
    assert heard["B", True] == "G7"
    assert heard["Bb", False] == "Gm7"


@pytest.mark.parametrize("name", PROGRESSIONS)
def test_a_progression_is_home_under_the_last_note_and_stays_there(name: str) -> None:
    for key, row in rows_in_keys(("C major", "G minor")):
        for tempo in (60, 200):
            block = f'drill = "octave scale"\nchanges = "{name}"\ntempo = {tempo}'
            score = composed(block, key=key, played=row).score
            home, last = score.changes[-1], score.solo[-1]
            assert home.symbol == {"C major": "C", "G minor": "Gm"}[key]
            assert home.onset <= last.onset
            assert home.onset + home.length == score.length


@pytest.mark.parametrize("name", BY_DEGREE)
def test_the_note_that_a_breath_ends_on_is_held_over_a_chord_of_its_own(name: str) -> None:
    """So the tonic at the end is not held against a dominant."""
    for key, row in rows_in_keys(("C major", "G minor")):
        score = composed(f'drill = "turning scale"\nchanges = "{name}"\ntempo = 60', key=key, played=row).score
        for phrase in phrases_of(score):
            chord = at(score, phrase[-1].onset)
            assert str(phrase[-1].pitch.name) in names(chord)
        assert score.changes[-1].symbol == {"C major": "C", "G minor": "Gm"}[key]


def test_a_progression_goes_bar_by_bar_in_the_order_written() -> None:
    score = composed(
        'drill = "turning scale"\nchanges = "one four five"\ntempo = 60', played=manner("one a beat")
    ).score
    assert [chord.symbol for chord in score.changes[:4]] == ["C", "F", "G7", "C"]
    assert {chord.length for chord in score.changes[1:3]} == {Beats(4)}
    assert {in_bar(score, chord.onset) for chord in score.changes[:-1]} == {Beats(0)}
    assert score.changes[-1].onset == score.solo[-1].onset


@pytest.mark.parametrize("drill", SPELLED)
def test_the_chord_that_you_spell_out_is_the_chord_that_you_hear(drill: str) -> None:
    for key, row in rows_in_keys(step=2):
        score = composed(f'drill = "{drill}"\nchanges = "as played"', key=key, played=row).score
        for note in score.solo:
            chord = at(score, note.onset)
            assert str(note.pitch.name) in names(chord), (key, row.number, chord.symbol)


def test_all_ten_triads_of_a_note_are_heard_as_they_are_played() -> None:
    score = composed('drill = "ten triads of a note"\nchanges = "as played"', key="D major").score
    assert len(score.changes) == 10
    for chord in score.changes:
        assert {str(note.pitch.name) for note in under(score, chord)} == names(chord)
        assert "D" in names(chord)


def test_on_a_halt_over_the_beat_the_chord_is_that_of_the_note_which_is_held() -> None:
    block = 'drill = "octave scale"\nchanges = "under each beat"'
    score = composed(block, played=manner("stop and go")).score
    halts = [note for note in score.solo if note.length == Beats(5, 4)]
    assert halts
    for note in halts:
        beat = note.onset + Beats(1, 4)
        assert in_bar(score, beat).exact.denominator == 1, "the beat that falls within the halt"
        assert str(note.pitch.name) in names(at(score, beat))


OWN = """
[drill."sevens"]
about = "A scale in eighths, in sevens."
staple = "scales"
material = "scale"
cells = ["1"]
path = "octave"
lengths = ["1/2"]
varies = false
meter = "7/8"
[changes."each pulse"]
about = "A chord each pulse."
kind = "progression"
every = "beat"
major = ["I", "IV", "V"]
minor = ["i", "iv", "V"]
[changes."each half"]
about = "Two chords a bar."
kind = "progression"
every = "half bar"
major = ["I", "V"]
minor = ["i", "V"]
"""


@pytest.mark.parametrize(("changes", "places"), [("each pulse", {"0", "1", "2"}), ("each half", {"0", "2"})])
def test_in_seven_eight_chords_move_with_the_groups(changes: str, places: set[str]) -> None:
    """2+2+3: groups begin on the first, third and fifth eighth; the second half of the bar is the group of three."""
    score = composed(f'drill = "sevens"\nchanges = "{changes}"', own=OWN).score
    assert {str(in_bar(score, chord.onset).exact) for chord in score.changes[:-1]} == places


@pytest.mark.parametrize(("meter", "half"), [("4/4", "2"), ("3/4", "2"), ("5/4", "3"), ("2/4", "1")])
def test_the_second_half_of_a_bar_begins_on_a_beat(meter: str, half: str) -> None:
    own = OWN.replace('"7/8"', f'"{meter}"')
    score = composed('drill = "sevens"\nchanges = "each half"', own=own).score
    assert {str(in_bar(score, chord.onset).exact) for chord in score.changes[:-1]} == {"0", half}


def test_under_cells_that_climb_by_half_steps_each_cell_is_home() -> None:
    score = composed('drill = "five-note cells"\nchanges = "as played"', played=manner("one a beat")).score
    roots = [chord.symbol for chord in score.changes]
    assert roots[:13] == ["C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B", "C"]


def test_no_changes_are_no_changes() -> None:
    assert composed('drill = "octave scale"\nchanges = "none"').score.changes == ()


@pytest.mark.parametrize(
    ("instrument", "key", "symbols"),
    [
        # written C major: a B flat instrument sounds B flat major, an E flat one E flat major (transposition tables)
        ("clarinet", "C major", ["Bb", "Eb", "F7", "Bb"]),
        ("alto saxophone", "C major", ["Eb", "Ab", "Bb7", "Eb"]),
        ("horn", "A minor", ["Dm", "Gm", "A7", "Dm"]),
    ],
)
def test_symbols_are_spelled_as_they_sound(instrument: str, key: str, symbols: list[str]) -> None:
    block = 'drill = "turning scale"\nchanges = "one four five"'
    score = composed(block, key=key, played=manner("one a beat"), top=f'instrument = "{instrument}"').score
    assert [chord.symbol for chord in score.changes[:4]] == symbols
