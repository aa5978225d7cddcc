"""Scales. Referees: music21's scales, rotation (the modes are the major scale begun elsewhere), letters of a key."""

from __future__ import annotations

from types import ModuleType

import pytest

from droner.theory.pitch import Interval, NoteName, note_name
from droner.theory.scale import SCALES, scale
from droner.theory.scale_table import ALIASES

JUDGES = [
    ("major", "MajorScale"),
    ("natural minor", "MinorScale"),
    ("harmonic minor", "HarmonicMinorScale"),
    ("melodic minor", "MelodicMinorScale"),
    ("dorian", "DorianScale"),
    ("phrygian", "PhrygianScale"),
    ("lydian", "LydianScale"),
    ("mixolydian", "MixolydianScale"),
    ("locrian", "LocrianScale"),
]
TONICS = ["Db", "Ab", "Eb", "Bb", "F", "C", "G", "D", "A", "E", "B", "F#", "C#"]
MODES = ["ionian", "dorian", "phrygian", "lydian", "mixolydian", "aeolian", "locrian"]


@pytest.mark.parametrize(("name", "judge_name"), JUDGES)
@pytest.mark.parametrize("tonic", TONICS)
def test_a_scale_is_spelled_as_music21_spells_it(music21: ModuleType, name: str, judge_name: str, tonic: str) -> None:
    judge = getattr(music21.scale, judge_name)(tonic.replace("b", "-"))
    lowest = music21.pitch.Pitch(tonic.replace("b", "-") + "4")
    rising = [one.name.replace("-", "b") for one in judge.getPitches(lowest, lowest.transpose(11))]
    assert [str(one) for one in scale(name).notes(note_name(tonic))] == rising


@pytest.mark.parametrize("tonic", TONICS)
def test_melodic_minor_comes_down_as_music21_does(music21: ModuleType, tonic: str) -> None:
    lowest = music21.pitch.Pitch(tonic.replace("b", "-") + "4")
    judge = music21.scale.MelodicMinorScale(lowest)
    falling = judge.getPitches(lowest, lowest.transpose("P8"), direction=music21.scale.Direction.DESCENDING)
    ours = scale("melodic minor").notes(note_name(tonic), falling=True)
    assert [str(one) for one in reversed(ours)] == [one.name.replace("-", "b") for one in falling[1:]]


def test_the_octatonic_is_music21s(music21: ModuleType) -> None:
    judge = music21.scale.OctatonicScale("C").getPitches("C4", "B4")
    ours = scale("octatonic, whole step first").notes(note_name("C"))
    assert [str(one) for one in ours] == [one.name.replace("-", "b") for one in judge]


@pytest.mark.parametrize("tonic", TONICS[:8])
def test_the_whole_tone_scale_is_music21s(music21: ModuleType, tonic: str) -> None:
    # from A upwards music21 respells the scale half-way; up to D both keep sharps
    judge = music21.scale.WholeToneScale(tonic.replace("b", "-")).getPitches(f"{tonic.replace('b', '-')}4", None)
    ours = scale("whole tone").notes(note_name(tonic))
    assert [str(one) for one in ours] == [one.name.replace("-", "b") for one in judge[:6]]


@pytest.mark.parametrize("turns", range(7))
def test_the_modes_are_rotations_of_major(turns: int) -> None:
    major = [one.semitones for one in scale("major").rising]
    rotated = sorted((one - major[turns]) % 12 for one in major)
    assert [one.semitones for one in scale(MODES[turns]).rising] == rotated


def test_the_octatonics_are_rotations_of_each_other() -> None:
    whole = [one.semitones for one in scale("octatonic, whole step first").rising]
    half = [one.semitones for one in scale("octatonic, half step first").rising]
    assert sorted((one - whole[1]) % 12 for one in whole) == half


@pytest.mark.parametrize("name", ["chromatic", "harmonic chromatic"])
def test_a_chromatic_scale_has_every_half_step(name: str) -> None:
    for way in (scale(name).rising, scale(name).falling):
        assert [one.semitones for one in way] == list(range(12))


def test_the_chromatic_scale_uses_sharps_up_and_flats_down() -> None:
    # common practice, no source
    up = scale("chromatic").notes(note_name("C"))
    down = scale("chromatic").notes(note_name("C"), falling=True)
    assert " ".join(map(str, up)) == "C C# D D# E F F# G G# A A# B"
    assert " ".join(map(str, down)) == "C Db D Eb E F Gb G Ab A Bb B"


@pytest.mark.parametrize("name", SCALES)
def test_every_scale_starts_on_its_tonic_and_climbs_within_an_octave(name: str) -> None:
    for way in (scale(name).rising, scale(name).falling):
        assert way[0] == Interval(0, 0)
        semitones = [one.semitones for one in way]
        assert semitones == sorted(set(semitones))
        assert semitones[-1] < 12


def test_minor_alone_is_the_natural_minor() -> None:
    # the minor of the key signature: common practice, no source
    assert scale("Minor") is scale("natural minor")
    assert [str(one) for one in scale("minor").notes(NoteName(5))] == list("ABCDEFG")


def test_every_alias_leads_to_a_scale() -> None:
    assert {scale(alias).name for alias, _ in ALIASES} <= set(SCALES)


def test_a_slip_of_the_hand_gets_the_nearest_scale() -> None:
    with pytest.raises(ValueError, match="did you mean dorian"):
        scale("dorain")
