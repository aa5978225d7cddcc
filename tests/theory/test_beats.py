"""Beats. Referees: Teki et al., J. Neurosci. 32(35):12251-12257 (2012), Table 1, after Capleton 2007; W. Braid White,
Piano Tuning and Allied Arts, 5th ed. 1946, Table III; beat rates by arithmetic from the partials.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.theory.beats import CLEAR_PARTIAL, PER_CENT, beat_hz, beats_against, coinciding, heard_as, pure_ratio
from droner.theory.cents import factor_of
from droner.theory.interval import interval
from droner.theory.pitch import OCTAVE, Pitch, note_name, pitch
from droner.theory.tuning import equal_hz, tuning

TEKI_ROUNDING_HZ = 0.05
"""The table prints one decimal."""
WHITE_ROUNDING_HZ = 0.02
"""White's own rounding, as quoted."""
PRINTED_HZ = 0.0006
PRINTED_CENTS = 0.001
"""Widths are given to a thousandth of a cent."""
CURVE = 0.001
"""A cent is not quite a straight line: relative."""
SIXTH_DECIMAL = 5e-7
FLOAT_ROUNDING = 1e-9
"""Rounding of floating-point arithmetic, far below what is heard."""
HALF_STEPS = ("F3", "F#3", "G3", "G#3", "A3", "Bb3", "B3", "C4", "C#4", "D4", "Eb4")

# beats a second in equal temperament at A4 = 440, from F3 upwards by half-steps
TEKI = {
    "M3": "6.9 7.3 7.8 8.2 8.7 9.2 9.8 10.4 11.0 11.7 12.3",
    "P4": "0.8 0.8 0.9 0.9 1.0 1.1 1.1 1.2 1.3 1.3",
    "P5": "0.6 0.6 0.7 0.7 0.7 0.8 0.8 0.9",
    "M6": "7.9 8.4 8.9 9.4 10.0 10.6",
    "m3": "9.4 10.0 10.6 11.2 11.9 12.6 13.3 14.1",
    "m6": "11.0 11.7 12.3 13.1 13.9 14.7 15.6",
}
# an equal note against a drone on A3, C4 and A4; interval, the drone's seventh, rates; by arithmetic
AGAINST_A_DRONE = [
    ("m3", "9/5", "-11.872 -14.118 -23.744"),
    ("M3", "9/5", "8.731 10.382 17.461"),
    ("P4", "9/5", "0.994 1.182 1.989"),
    ("P5", "9/5", "-0.745 -0.886 -1.490"),
    ("m6", "9/5", "-13.859 -16.481 -27.718"),
    ("M6", "9/5", "9.983 11.872 19.967"),
    ("m7", "7/4", "27.982 33.276 55.963"),
    ("m7", "9/5", "-20.023 -23.811 -40.046"),
    ("M7", "9/5", "22.438 26.683 44.875"),
]
pitches = st.builds(
    lambda steps: pitch("C3") + interval("M2") * (steps % 7) + OCTAVE * (steps // 7), st.integers(0, 20)
)


@pytest.mark.parametrize("short", TEKI)
def test_equal_intervals_beat_as_in_the_published_table(short: str) -> None:
    equal = tuning(440, "equal")
    for low, printed in zip(HALF_STEPS, TEKI[short].split(), strict=False):
        lower, upper = pitch(low), pitch(low) + interval(short)
        rate = beat_hz(equal.hz(lower), equal.hz(upper), *coinciding(interval(short)))
        assert abs(rate) == pytest.approx(float(printed), abs=TEKI_ROUNDING_HZ)


def test_all_fifty_published_rates_are_asked() -> None:
    assert sum(len(row.split()) for row in TEKI.values()) == 50


@pytest.mark.parametrize(("low", "printed"), [("F3", 9.43), ("A3", 11.87), ("C#4", 14.95), ("F4", 18.86)])
def test_minor_thirds_beat_as_white_printed_them(low: str, printed: float) -> None:
    lower, upper = equal_hz(440, pitch(low)), equal_hz(440, pitch(low) + interval("m3"))
    assert beat_hz(lower, upper, 6, 5) == pytest.approx(-printed, abs=WHITE_ROUNDING_HZ)


def test_the_sign_says_wide_or_narrow() -> None:
    # equal temperament: thirds and sixths major wide, minor narrow, fifths narrow, fourths wide
    signs = {}
    for short in TEKI:
        lower, upper = equal_hz(440, pitch("C4")), equal_hz(440, pitch("C4") + interval(short))
        signs[short] = beat_hz(lower, upper, *coinciding(interval(short))) > 0
    assert signs == {"M3": True, "P4": True, "P5": False, "M6": True, "m3": False, "m6": False}


@pytest.mark.parametrize(
    ("short", "pair"),
    # partials that coincide, by the ratio: P5 3:2, P4 4:3, M3 5:4, m3 6:5, M6 5:3, m6 8:5
    [("P5", (3, 2)), ("P4", (4, 3)), ("M3", (5, 4)), ("m3", (6, 5)), ("M6", (5, 3)), ("m6", (8, 5)), ("P8", (2, 1))],
)
def test_the_lowest_coinciding_partials_are_those_of_the_ratio(short: str, pair: tuple[int, int]) -> None:
    assert coinciding(interval(short)) == pair
    assert coinciding(Fraction(*pair)) == pair


@pytest.mark.parametrize(("short", "seventh", "rates"), AGAINST_A_DRONE)
def test_an_equal_note_beats_against_a_drone_by_arithmetic(short: str, seventh: str, rates: str) -> None:
    for drone, rate in zip(("A3", "C4", "A4"), rates.split(), strict=True):
        on_drone = tuning(440, "just", pitch(drone).name, seventh=seventh)
        heard = beats_against(pitch(drone), pitch(drone) + interval(short), on_drone)
        assert heard.equal_beat_hz == pytest.approx(float(rate), abs=PRINTED_HZ)


@pytest.mark.parametrize(("cents", "rate"), [(1, 0.254), (2, 0.509), (5, 1.273), (10, 2.549), (14, 3.573), (20, 5.113)])
def test_a_unison_out_of_tune_beats_by_arithmetic(cents: float, rate: float) -> None:
    heard = beats_against(pitch("A4"), pitch("A4"), tuning(440, "just", note_name("A")))
    assert heard.beat_hz_at(cents) == pytest.approx(rate, abs=PRINTED_HZ)


@pytest.mark.parametrize(("name", "cents"), [("meantone", 0.0), ("werckmeister 3", 3.911), ("pythagorean", 21.506)])
def test_a_temperaments_third_beats_by_its_width(name: str, cents: float) -> None:
    # C-E wide of 5/4: 0, 3.911 and 21.506 cents; the fifth partial carries the difference
    heard = beats_against(pitch("C4"), pitch("E4"), tuning(440, name))
    expected = 4 * heard.target_hz * (factor_of(cents) - 1)
    assert heard.tuned_beat_hz == pytest.approx(expected, abs=PRINTED_CENTS * 4 * heard.target_hz * PER_CENT)


@pytest.mark.parametrize(
    ("drone", "rate"),
    # F#5 in equal temperament over D: the drone's 5th partial against the flute's fundamental; by arithmetic
    [("D5", 23.3), ("D4", 11.7), ("D3", 5.8)],
)
def test_the_drones_octave_decides_how_fast_a_third_beats(drone: str, rate: float) -> None:
    heard = beats_against(pitch(drone), pitch("F#5"), tuning(440, "just", note_name("D")))
    assert heard.equal_beat_hz == pytest.approx(rate, abs=TEKI_ROUNDING_HZ)
    assert heard.best_drone_octave == 3


@pytest.mark.parametrize(
    ("note", "best"),
    # low bright drones serve degrees 2, 3 and 5; the same octave or above serves 4, 6, flat 3 and flat 6
    [("E5", "low"), ("F#5", "low"), ("A5", "low"), ("G5", "same"), ("B5", "same"), ("F5", "same"), ("Bb5", "same")],
)
def test_low_drones_serve_two_three_and_five(note: str, best: str) -> None:
    heard = beats_against(pitch("D5"), pitch(note), tuning(440, "just", note_name("D")))
    assert heard.best_drone_octave is not None
    assert (heard.best_drone_octave < 5) == (best == "low")


@given(pitches, st.sampled_from(["m2", "M2", "m3", "M3", "P4", "P5", "m6", "M6", "m7", "M7", "P8"]))
def test_no_other_octave_with_clear_partials_beats_more_slowly(drone: Pitch, short: str) -> None:
    # brute force over the octaves C2 to C6, and the drone's own
    note = drone + interval(short)
    made = tuning(440, "just", drone.name)
    heard = beats_against(drone, note, made)
    clear = {}
    for octave in range(9):
        other = beats_against(drone.name.in_octave(octave), note, made)
        if other.clear and (octave == drone.octave or 36 <= other.drone.midi <= 84):
            clear[octave] = other.beat_hz_per_cent
    if clear:
        assert heard.best_drone_octave in clear
        assert clear[heard.best_drone_octave] == pytest.approx(min(clear.values()))


@given(pitches, st.sampled_from(["m3", "M3", "P4", "P5", "m6", "M6", "P8"]))
def test_a_pure_note_does_not_beat_and_a_cent_beats_by_its_rate(drone: Pitch, short: str) -> None:
    made = tuning(442, "just", drone.name)
    heard = beats_against(drone, drone + interval(short), made)
    assert heard.target_beat_hz == 0
    assert heard.tuned_beat_hz == pytest.approx(0, abs=FLOAT_ROUNDING)
    assert heard.target_hz == pytest.approx(made.hz(drone + interval(short)))
    assert heard.beat_hz_at(1) == pytest.approx(heard.beat_hz_per_cent, rel=CURVE)


def test_one_cent_is_0_000578_of_a_frequency() -> None:
    # ln 2 / 1200
    assert pytest.approx(0.000578, abs=SIXTH_DECIMAL) == PER_CENT


def test_a_note_below_the_drone_is_counted_too() -> None:
    # A4 under a drone on D5: 3/4, the drone's third partial with the player's fourth; by arithmetic
    heard = beats_against(pitch("D5"), pitch("A4"), tuning(440, "just", note_name("D")))
    assert (heard.ratio, heard.drone_partial, heard.player_partial) == (Fraction(3, 4), 3, 4)
    assert pure_ratio(-interval("P4")) == Fraction(3, 4)


def test_the_difference_tone_of_a_pure_third_is_two_octaves_below_the_drone() -> None:
    # f2 - f1 of 5:4 is 1: two octaves under the lower tone
    heard = beats_against(pitch("C5"), pitch("E5"), tuning(440))
    assert heard.difference_hz == pytest.approx(tuning(440).hz(pitch("C3")))


def test_an_equal_minor_third_as_target_beats_on() -> None:
    # A3-C4 in equal temperament: 11.87 a second, Teki et al. Table 1
    heard = beats_against(pitch("A3"), pitch("C4"), tuning(440, "just", note_name("A"), minor_third="equal"))
    assert heard.target_cents == pytest.approx(0, abs=FLOAT_ROUNDING)
    assert abs(heard.target_beat_hz) == pytest.approx(11.9, abs=TEKI_ROUNDING_HZ)


def test_a_tritone_has_no_clear_partials() -> None:
    heard = beats_against(pitch("D4"), pitch("G#4"), tuning(440, "just", note_name("D")))
    assert heard.drone_partial > CLEAR_PARTIAL
    assert not heard.clear
    assert heard.best_drone_octave is None


@pytest.mark.parametrize(
    ("rate_hz", "word"),
    # countable to about 6 a second, tuners work to about 16, roughness from 15 to 20: Teki et al.; Fastl & Zwicker
    [(0.0, "still"), (-0.1, "still"), (1.0, "countable"), (-6.0, "countable"), (10.0, "fast"), (-30.0, "rough")],
)
def test_beats_are_named_by_what_the_ear_makes_of_them(rate_hz: float, word: str) -> None:
    assert heard_as(rate_hz) == word
