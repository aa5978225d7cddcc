"""Tuning. Referees: ISO 16 / MIDI Tuning Standard table of frequencies; published offsets of temperaments at A = 0
(Werckmeister III: PTG archive 1999-September/051168; Young 1: Wikipedia after Barbour 2004); just offsets by
arithmetic; music21's frequencies.
"""

from __future__ import annotations

from itertools import pairwise
from types import ModuleType

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.theory.key import Key, usual_keys
from droner.theory.pitch import OCTAVE, NoteName, Pitch, note_name, pitch
from droner.theory.temperament import TEMPERAMENTS
from droner.theory.tuning import equal_hz, tuning

FOUR_DECIMALS_HZ = 0.00006
THREE_DECIMALS_HZ = 0.0006
CENT_PRINTED = 0.0006
TENTH_OF_A_CENT = 0.06
FLOAT_ROUNDING = 1e-12
"""Rounding of floating-point arithmetic, relative; a billionth of a cent."""
CLEARLY_APART = 1e-9
"""Relative; a millionth of a cent."""
WHOLE_CENT = 0.5
"""Printed to the nearest cent."""
NAMES = ("C", "C#", "D", "Eb", "E", "F", "F#", "G", "G#", "A", "Bb", "B")

# MIDI key, name, A4 = 440 (MIDI Tuning Standard text where it prints it), A4 = 415, A4 = 442 (by the rule)
FREQUENCIES = """
0 C-1 8.1758 7.711 8.213
12 C0 16.3516 15.423 16.426
21 A0 27.5000 25.938 27.625
24 C1 32.7032 30.845 32.852
36 C2 65.4064 61.690 65.704
45 A2 110.0000 103.750 110.500
48 C3 130.8128 123.380 131.407
52 E3 164.8138 155.449 165.563
55 G3 195.9977 184.861 196.889
57 A3 220.0000 207.500 221.000
58 Bb3 233.0819 219.839 234.141
59 B3 246.9417 232.911 248.064
60 C4 261.6256 246.760 262.815
61 C#4 277.1826 261.434 278.443
62 D4 293.6648 276.979 295.000
63 Eb4 311.1270 293.449 312.541
64 E4 329.6276 310.899 331.126
65 F4 349.2282 329.386 350.816
66 F#4 369.9944 348.972 371.676
67 G4 391.9954 369.723 393.777
68 G#4 415.3047 391.708 417.192
69 A4 440.0000 415.000 442.000
70 Bb4 466.1638 439.677 468.283
71 B4 493.8833 465.822 496.128
72 C5 523.2511 493.521 525.630
74 D5 587.3295 553.959 589.999
76 E5 659.2551 621.797 662.252
81 A5 880.0000 830.000 884.000
84 C6 1046.5023 987.042 1051.259
86 D6 1174.6591 1107.917 1179.998
93 A6 1760.0000 1660.000 1768.000
96 C7 2093.0045 1974.084 2102.518
98 D7 2349.3181 2215.834 2359.997
108 C8 4186.0090 3948.168 4205.036
120 C9 8372.0181 7896.335 8410.073
127 G9 12543.8540 11831.135 12600.871
"""
# offsets from equal temperament with A = 0, C to B; computed from the circles, checked as above
OFFSETS_AT_A = {
    "equal": "0 0 0 0 0 0 0 0 0 0 0 0",
    "pythagorean": "-5.865 7.820 -1.955 -11.730 1.955 -7.820 5.865 -3.910 9.775 0 -9.775 3.910",
    "meantone": "10.265 -13.686 3.422 20.529 -3.422 13.686 -10.265 6.843 -17.108 0 17.108 -6.843",
    "werckmeister 3": "11.730 1.955 3.910 5.865 1.955 9.775 0 7.820 3.910 0 7.820 3.910",
    "kirnberger 3": "10.265 0.490 3.422 4.400 -3.422 8.310 0.488 6.843 2.445 0 6.355 -1.467",
    "vallotti": "5.865 0 1.955 3.910 -1.955 7.820 -1.955 3.910 1.955 0 5.865 -3.910",
    "young 1": "6.232 0.122 2.077 4.032 -2.077 6.110 -1.833 4.155 2.077 0 5.987 -1.955",
    "young 2": "5.865 -3.910 1.955 0 -1.955 3.910 -5.865 3.910 -1.955 0 1.955 -3.910",
}
a4s = st.floats(380, 480)
names = st.builds(NoteName, st.integers(0, 6), st.integers(-2, 2))
pitches = st.builds(NoteName.in_octave, names, st.integers(0, 8))
temperaments = st.sampled_from(list(TEMPERAMENTS))


@pytest.mark.parametrize("line", FREQUENCIES.strip().splitlines(), ids=str.split)
def test_equal_temperament_is_the_standard_table(line: str) -> None:
    key, name, at_440, at_415, at_442 = line.split()
    one = pitch(name)
    assert one.midi == int(key)
    assert tuning(440, "equal").hz(one) == pytest.approx(float(at_440), abs=FOUR_DECIMALS_HZ)
    assert tuning(415, "equal").hz(one) == pytest.approx(float(at_415), abs=THREE_DECIMALS_HZ)
    assert tuning(442, "equal").hz(one) == pytest.approx(float(at_442), abs=THREE_DECIMALS_HZ)


@given(pitches)
def test_equal_temperament_is_the_rule_of_the_standard(one: Pitch) -> None:
    # ISO 16: f = 440 * 2^((n - 69) / 12)
    assert equal_hz(440, one) == pytest.approx(440 * 2 ** ((one.midi - 69) / 12), rel=FLOAT_ROUNDING)


def test_music21_agrees_on_the_flutes_compass(music21: ModuleType) -> None:
    for midi in range(59, 99):
        judge = music21.pitch.Pitch(midi)
        ours = pitch(judge.nameWithOctave.replace("-", "b"))
        assert tuning(440, "equal").hz(ours) == pytest.approx(judge.frequency, rel=FLOAT_ROUNDING)


@pytest.mark.parametrize("name", OFFSETS_AT_A)
def test_offsets_at_a_are_the_published_ones(name: str) -> None:
    offsets = [tuning(440, name).cents(note_name(text).in_octave(4)) for text in NAMES]
    assert offsets == pytest.approx([float(cents) for cents in OFFSETS_AT_A[name].split()], abs=CENT_PRINTED)


def test_werckmeister_is_the_list_tuners_print() -> None:
    # PTG archive 1999-September/051168
    printed = [11.7, 2.0, 3.9, 5.9, 2.0, 9.8, 0.0, 7.8, 3.9, 0.0, 7.8, 3.9]
    offsets = [tuning(440, "werckmeister 3").cents(note_name(text).in_octave(4)) for text in NAMES]
    assert offsets == pytest.approx(printed, abs=TENTH_OF_A_CENT)


def test_young_is_the_list_that_is_printed_to_the_cent() -> None:
    # Wikipedia, "Young temperament", after Barbour 2004
    printed = [6, 0, 2, 4, -2, 6, -2, 4, 2, 0, 6, -2]
    offsets = [tuning(440, "young 1").cents(note_name(text).in_octave(4)) for text in NAMES]
    assert offsets == pytest.approx(printed, abs=WHOLE_CENT)


@pytest.mark.parametrize(
    ("mode", "offsets"),
    # five-limit scales against equal temperament, tonic = 0, by arithmetic
    [
        ("major", "0 3.910 -13.686 -1.955 1.955 -15.641 -11.731"),
        ("minor", "0 3.910 15.641 -1.955 1.955 13.686 17.596"),
        ("harmonic minor", "0 3.910 15.641 -1.955 1.955 13.686 -11.731"),
    ],
)
@pytest.mark.parametrize("tonic", ["C", "Eb", "F#", "A"])
def test_a_just_scale_stands_on_its_tonic(mode: str, offsets: str, tonic: str) -> None:
    on_tonic = tuning(442, "just", note_name(tonic))
    cents = [on_tonic.cents(name.in_octave(4)) for name in Key(note_name(tonic), mode).notes]
    assert cents == pytest.approx([float(one) for one in offsets.split()], abs=CENT_PRINTED)


def test_the_fifth_on_the_second_degree_is_the_wolf_of_just_intonation() -> None:
    # D-A in C is 40/27, by arithmetic
    in_c = tuning(440, "just")
    assert in_c.hz(pitch("A4")) / in_c.hz(pitch("D4")) == pytest.approx(40 / 27)


def test_just_tuning_may_stand_on_its_own_a_instead() -> None:
    # by arithmetic: A is the just major sixth, 5/3, of C and the augmented fourth, 45/32, of E flat
    assert tuning(442, "just", anchor="a4").hz(pitch("A4")) == 442
    assert tuning(442, "just", anchor="a4").hz(pitch("C4")) == pytest.approx(442 * 3 / 5)
    assert tuning(442, "just", note_name("Eb"), anchor="a4").hz(pitch("Eb4")) == pytest.approx(442 * 32 / 45)


@given(a4s, temperaments, names)
def test_the_anchor_holds_its_note(a4_hz: float, name: str, reference: NoteName) -> None:
    assert tuning(a4_hz, name, reference, anchor="a4").hz(pitch("A4")) == pytest.approx(a4_hz, rel=FLOAT_ROUNDING)
    standing = reference.in_octave(4)
    equally = tuning(a4_hz, "equal").hz(standing)
    assert tuning(a4_hz, name, reference, anchor="equal").hz(standing) == pytest.approx(equally, rel=FLOAT_ROUNDING)


def test_without_an_anchor_just_stands_on_its_tonic_and_the_others_on_a() -> None:
    assert tuning(440, "just").anchor == "equal"
    assert {tuning(440, name).anchor for name in TEMPERAMENTS if name != "just"} == {"a4"}


@given(a4s, temperaments, names, pitches)
def test_an_octave_higher_is_exactly_twice_the_frequency(
    a4_hz: float, name: str, reference: NoteName, one: Pitch
) -> None:
    made = tuning(a4_hz, name, reference)
    assert made.hz(one + OCTAVE) == 2 * made.hz(one)


@given(temperaments, st.sampled_from(usual_keys()))
def test_a_scale_rises(name: str, one: Key) -> None:
    made = tuning(440, name, one.tonic)
    notes = [one.tonic.in_octave(4) + step for step in one.scale.rising]
    assert all(made.hz(low) < made.hz(high) for low, high in pairwise(notes))


@given(names, pitches)
def test_a_circle_moves_with_its_reference(reference: NoteName, one: Pitch) -> None:
    # Werckmeister from D is Werckmeister from C, every interval alike: the meaning of a reference note
    from_c, moved = tuning(440, "werckmeister 3"), tuning(440, "werckmeister 3", reference)
    shift = reference.in_octave(4) - note_name("C").in_octave(4)
    ratio = moved.hz(one + shift) / moved.hz(reference.in_octave(4))
    assert ratio == pytest.approx(from_c.hz(one) / from_c.hz(pitch("C4")), rel=FLOAT_ROUNDING)


@given(st.sampled_from(["pythagorean", "meantone"]), names, pitches)
def test_a_line_of_fifths_is_alike_from_every_note(name: str, reference: NoteName, one: Pitch) -> None:
    assert tuning(440, name, reference).hz(one) == pytest.approx(tuning(440, name).hz(one), rel=FLOAT_ROUNDING)


@pytest.mark.parametrize(("sharp", "flat"), [("B#3", "C4"), ("Fb4", "E4"), ("E##4", "F#4"), ("C#5", "Db5")])
def test_enharmonics_part_only_where_the_temperament_is_spelled(sharp: str, flat: str) -> None:
    for name in TEMPERAMENTS:
        apart = tuning(440, name).hz(pitch(sharp)) != pytest.approx(
            tuning(440, name).hz(pitch(flat)), rel=CLEARLY_APART
        )
        assert apart == (name in {"just", "pythagorean", "meantone"})


def test_meantone_sharps_lie_below_flats_and_pythagorean_above() -> None:
    # by arithmetic: the lesser diesis 41.059 cents, the Pythagorean comma 23.460
    for name, cents in (("meantone", -41.059), ("pythagorean", 23.460)):
        made = tuning(440, name)
        assert made.cents(pitch("G#4")) - made.cents(pitch("Ab4")) == pytest.approx(cents, abs=CENT_PRINTED)


@pytest.mark.parametrize("a4_hz", [379.9, 480.1, 0, -440, float("nan")])
def test_an_a_that_no_one_plays_is_refused(a4_hz: float) -> None:
    with pytest.raises(ValueError, match="A4 lies between 380 and 480"):
        tuning(a4_hz)


def test_an_unknown_anchor_is_refused() -> None:
    with pytest.raises(ValueError, match="not an anchor"):
        tuning(440, "just", anchor="c4")


def test_a_tuning_moves_to_another_tonic() -> None:
    assert tuning(440, "just").on(note_name("D")) == tuning(440, "just", note_name("D"))
