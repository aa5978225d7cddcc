"""Instruments. Referees: music21's transpositions, lowest notes and MIDI programs; sounding compasses in MIDI keys
from public score-data tables; the written intervals printed in orchestral range tables.
"""

from __future__ import annotations

from types import ModuleType

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.theory.instrument import INSTRUMENTS, LEVELS, Instrument, Range, instrument
from droner.theory.pitch import Pitch, note_name, pitch

MUSIC21 = [
    ("flute", "Flute"),
    ("piccolo", "Piccolo"),
    ("oboe", "Oboe"),
    ("English horn", "EnglishHorn"),
    ("clarinet", "Clarinet"),
    ("bass clarinet", "BassClarinet"),
    ("bassoon", "Bassoon"),
    ("soprano saxophone", "SopranoSaxophone"),
    ("alto saxophone", "AltoSaxophone"),
    ("tenor saxophone", "TenorSaxophone"),
    ("baritone saxophone", "BaritoneSaxophone"),
    ("horn", "Horn"),
    ("trumpet", "Trumpet"),
    ("trombone", "Trombone"),
    ("bass trombone", "BassTrombone"),
    ("tuba", "Tuba"),
    ("alto recorder", "Recorder"),
]
PEDALS_LEFT_OUT = {"horn", "tuba"}
"""music21 counts their pedal notes; a daily scale does not go there."""
# sounding low and high as MIDI keys, from public score-data tables
SOUNDING = [
    ("piccolo", 74, 108),
    ("flute", 60, 98),
    ("flute, B foot", 59, 98),
    ("alto flute", 55, 91),
    ("bass flute", 48, 84),
    ("English horn", 52, 81),
    ("clarinet in E flat", 55, 98),
    ("clarinet", 50, 94),
    ("clarinet in A", 49, 93),
    ("bass clarinet", 37, 77),
    ("bassoon", 34, 75),
    ("soprano saxophone", 56, 88),
    ("alto saxophone", 49, 81),
    ("tenor saxophone", 44, 76),
    ("baritone saxophone", 37, 69),
    ("trumpet", 52, 84),
    ("trombone", 40, 72),
    ("soprano recorder", 72, 98),
    ("alto recorder", 65, 91),
    ("tenor recorder", 60, 86),
    ("bass recorder", 53, 79),
]
# written above sounding, in half-steps
WRITTEN_ABOVE = [
    ("clarinet", 2),
    ("trumpet", 2),
    ("soprano saxophone", 2),
    ("clarinet in A", 3),
    ("clarinet in E flat", -3),
    ("alto flute", 5),
    ("horn", 7),
    ("English horn", 7),
    ("alto saxophone", 9),
    ("tenor saxophone", 14),
    ("bass clarinet", 14),
    ("baritone saxophone", 21),
    ("piccolo", -12),
    ("bass flute", 12),
]
# lowest sounding note as a MIDI key: from memory, where no published table was at hand
LOWEST_FROM_MEMORY = [
    ("contrabassoon", 22),
    ("cornet", 52),
    ("flugelhorn", 52),
    ("trumpet in C", 54),
    ("euphonium", 40),
    ("sopranino recorder", 77),
]
every = st.sampled_from(list(INSTRUMENTS.values()))


@pytest.mark.parametrize(("name", "judge_name"), MUSIC21)
def test_music21_transposes_alike(music21: ModuleType, name: str, judge_name: str) -> None:
    judge = getattr(music21.instrument, judge_name)().transposition
    ours = instrument(name).sounding
    steps, semitones = (judge.generic.staffDistance, judge.semitones) if judge else (0, 0)
    assert (ours.steps, ours.semitones) == (steps, semitones)


@pytest.mark.parametrize(("name", "judge_name"), [row for row in MUSIC21 if row[0] not in PEDALS_LEFT_OUT])
def test_music21_goes_down_to_the_same_note(music21: ModuleType, name: str, judge_name: str) -> None:
    judge = getattr(music21.instrument, judge_name)().lowestNote
    assert instrument(name).advanced.low.midi == judge.midi


@pytest.mark.parametrize(("name", "judge_name"), MUSIC21)
def test_music21_has_the_same_midi_program(music21: ModuleType, name: str, judge_name: str) -> None:
    # music21 counts programs from 0, General MIDI prints them from 1
    assert instrument(name).program == getattr(music21.instrument, judge_name)().midiProgram + 1


@pytest.mark.parametrize(("name", "low", "high"), SOUNDING)
def test_the_advanced_compass_sounds_as_published(name: str, low: int, high: int) -> None:
    one = instrument(name)
    sounding = one.advanced.transposed(one.sounding)
    assert (sounding.low.midi, sounding.high.midi) == (low, high)


@pytest.mark.parametrize(("name", "low"), LOWEST_FROM_MEMORY)
def test_the_other_instruments_go_down_as_remembered(name: str, low: int) -> None:
    assert instrument(name).sounds(instrument(name).advanced.low).midi == low


def test_every_instrument_is_checked_by_one_of_the_lists() -> None:
    checked = {row[0] for rows in (MUSIC21, SOUNDING, LOWEST_FROM_MEMORY) for row in rows}
    assert set(INSTRUMENTS) == checked


@pytest.mark.parametrize(("name", "half_steps"), WRITTEN_ABOVE)
def test_written_lies_above_sounding_by_the_published_interval(name: str, half_steps: int) -> None:
    assert instrument(name).sounding.semitones == -half_steps


def test_the_middle_of_a_flute_is_g5_nineteen_half_steps_from_either_end() -> None:
    # slow chromatic work starts there: 19 half-steps each way from C4 to D7, by arithmetic
    flute = instrument("flute")
    assert flute.middle == pitch("G5")
    assert flute.middle.midi - flute.advanced.low.midi == flute.advanced.high.midi - flute.middle.midi == 19
    assert instrument("flute, B foot").middle == pitch("G5")


@pytest.mark.parametrize("one", INSTRUMENTS.values(), ids=lambda one: one.name)
def test_a_compass_grows_with_the_level(one: Instrument) -> None:
    assert tuple(one.ranges) == LEVELS
    beginner, intermediate, advanced = one.ranges.values()
    assert advanced.low <= intermediate.low <= beginner.low
    assert beginner.high <= intermediate.high <= advanced.high
    assert beginner.high.midi - beginner.low.midi >= 12  # a scale of one octave must fit


@pytest.mark.parametrize(
    ("family", "overblows", "loud_goes"),
    # flutes and brass sharp, reeds flat when louder; only the clarinet overblows the twelfth
    [
        ("flute", "octave", "sharp"),
        ("recorder", "octave", "sharp"),
        ("double reed", "octave", "flat"),
        ("saxophone", "octave", "flat"),
        ("clarinet", "twelfth", "flat"),
        ("brass", "brass", "sharp"),
    ],
)
def test_a_family_has_its_habits(family: str, overblows: str, loud_goes: str) -> None:
    members = [one for one in INSTRUMENTS.values() if one.family == family]
    assert {(one.overblows, one.loud_goes) for one in members} == {(overblows, loud_goes)}


def test_a_stopped_cylinder_gives_odd_partials_only() -> None:
    # acoustics of pipes
    assert all(partial % 2 == 1 for partial in instrument("clarinet").partials)
    assert instrument("flute").partials[:4] == (1, 2, 3, 4)


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("Flute", "flute"),
        ("FLUTE, B FOOT", "flute, B foot"),
        ("Bb clarinet", "clarinet"),
        ("clarinet in B-flat", "clarinet"),
        ("Clarinet in Eb", "clarinet in E flat"),
        ("A clarinet", "clarinet in A"),
        ("cor anglais", "English horn"),
        ("French horn", "horn"),
        ("alto sax", "alto saxophone"),
        ("descant recorder", "soprano recorder"),
    ],
)
def test_an_instrument_has_many_names(typed: str, name: str) -> None:
    assert instrument(typed).name == name


def test_there_are_at_least_two_dozen_and_no_name_means_two() -> None:
    names = [name.casefold() for one in INSTRUMENTS.values() for name in (one.name, *one.aliases)]
    assert len(INSTRUMENTS) >= 24
    assert len(names) == len(set(names))


@given(every, st.integers(40, 100))
def test_what_is_read_for_a_sound_sounds_so(one: Instrument, midi: int) -> None:
    sounding = Pitch(midi * 7 // 12, midi)
    assert one.sounds(one.reads(sounding)) == sounding


def test_a_clarinet_reads_a_note_higher() -> None:
    # concert B flat is the clarinet's C
    assert str(instrument("clarinet").written_name(note_name("Bb"))) == "C"
    assert instrument("clarinet").transposes
    assert not instrument("piccolo").transposes


def test_a_slip_of_the_hand_gets_the_nearest_instrument() -> None:
    with pytest.raises(ValueError, match="did you mean bassoon"):
        instrument("basoon")


def test_a_compass_holds_its_ends_and_goes_up() -> None:
    compass = Range(pitch("C4"), pitch("D7"))
    assert pitch("C4") in compass
    assert pitch("D7") in compass
    assert pitch("B3") not in compass
    with pytest.raises(ValueError, match="goes up"):
        Range(pitch("D7"), pitch("C4"))
