"""Temperaments. Referees: tables of cents computed from the published circles of fifths and cross-checked with
public lists: Werckmeister III, Vallotti and Pythagorean with 6-decimal ratio lists, meantone and Kirnberger III
with a 12-frequency table; commas and just ratios by arithmetic.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.theory.cents import PYTHAGOREAN_COMMA, SYNTONIC_COMMA, cents_of
from droner.theory.interval import interval
from droner.theory.just import just_ratio
from droner.theory.just_table import RATIOS
from droner.theory.pitch import OCTAVE, Interval, note_name
from droner.theory.temperament import TEMPERAMENTS, temperament
from droner.theory.temperament_table import ALIASES

PRINTED = 0.0006
"""The tables print three decimals of a cent; half a unit, and a rounding of theirs."""
FLOAT_ROUNDING_CENTS = 1e-6
"""Rounding of floating-point arithmetic, far below what is heard."""
THIRD_PRINTED = 0.006
"""The table of thirds prints two decimals."""
NAMES = ("C", "C#", "D", "Eb", "E", "F", "F#", "G", "G#", "A", "Bb", "B")

CENTS_ABOVE_C = {
    "equal": "0 100 200 300 400 500 600 700 800 900 1000 1100",
    "pythagorean": "0 113.685 203.910 294.135 407.820 498.045 611.730 701.955 815.640 905.865 996.090 1109.775",
    "meantone": "0 76.049 193.157 310.265 386.314 503.422 579.471 696.578 772.627 889.735 1006.843 1082.892",
    "werckmeister 3": "0 90.225 192.180 294.135 390.225 498.045 588.270 696.090 792.180 888.270 996.090 1092.180",
    "kirnberger 3": "0 90.225 193.157 294.135 386.314 498.045 590.224 696.578 792.180 889.735 996.090 1088.269",
    "vallotti": "0 94.135 196.090 298.045 392.180 501.955 592.180 698.045 796.090 894.135 1000.000 1090.225",
    "young 1": "0 93.890 195.845 297.800 391.690 499.878 591.935 697.923 795.845 893.768 999.755 1091.813",
    "young 2": "0 90.225 196.090 294.135 392.180 498.045 588.270 698.045 792.180 894.135 996.090 1090.225",
}
THIRD_ROOTS = ("C", "G", "D", "A", "E", "B", "F#", "C#", "G#", "Eb", "Bb", "F")
# major thirds on a keyboard Eb..G#, in cents wide of 386.314
THIRD_WIDTHS = {
    "equal": "13.69 13.69 13.69 13.69 13.69 13.69 13.69 13.69 13.69 13.69 13.69 13.69",
    "pythagorean": "21.51 21.51 21.51 21.51 21.51 -1.95 -1.95 -1.95 -1.95 21.51 21.51 21.51",
    "meantone": "0 0 0 0 0 41.06 41.06 41.06 41.06 0 0 0",
    "werckmeister 3": "3.91 9.78 9.78 15.64 15.64 15.64 21.51 21.51 21.51 15.64 9.78 3.91",
    "kirnberger 3": "0 5.38 10.75 14.18 19.55 19.55 19.55 21.51 21.51 16.13 10.75 5.38",
    "vallotti": "5.87 5.87 9.78 13.69 17.60 21.51 21.51 21.51 17.60 13.69 9.78 5.87",
    "young 1": "5.38 7.58 9.78 13.81 17.84 19.67 21.51 19.67 17.84 13.81 9.78 7.58",
    "young 2": "5.87 5.87 5.87 9.78 13.69 17.60 21.51 21.51 21.51 17.60 13.69 9.78",
}
intervals = st.builds(Interval, st.integers(-20, 20), st.integers(-36, 36)).filter(lambda one: abs(one.fifths) < 40)


def _cents(name: str, distance: Interval) -> float:
    return cents_of(temperament(name).factor(distance))


def _above_c(name: str) -> list[float]:
    c = note_name("C").in_octave(4)
    return [_cents(name, note_name(text).in_octave(4) - c) for text in NAMES]


@pytest.mark.parametrize("name", CENTS_ABOVE_C)
def test_cents_above_c_are_the_published_ones(name: str) -> None:
    assert _above_c(name) == pytest.approx([float(cents) for cents in CENTS_ABOVE_C[name].split()], abs=PRINTED)


@pytest.mark.parametrize("name", THIRD_WIDTHS)
def test_major_thirds_are_as_wide_as_published(name: str) -> None:
    cents = _above_c(name)
    widths = []
    for root in THIRD_ROOTS:
        place = NAMES.index(root)
        widths.append((cents[(place + 4) % 12] - cents[place]) % 1200 - cents_of(Fraction(5, 4)))
    assert widths == pytest.approx([float(width) for width in THIRD_WIDTHS[name].split()], abs=THIRD_PRINTED)


@pytest.mark.parametrize(("name", "wolf"), [("pythagorean", 678.495), ("meantone", 737.637)])
def test_the_wolf_is_the_diminished_sixth(name: str, wolf: float) -> None:
    # G sharp - E flat on a keyboard Eb..G#; Barbour 1951 (from memory) and the arithmetic of the circle
    g_sharp_to_e_flat = note_name("Eb").in_octave(5) - note_name("G#").in_octave(4)
    assert _cents(name, g_sharp_to_e_flat) == pytest.approx(wolf, abs=PRINTED)


@pytest.mark.parametrize(
    ("fifth", "cents"),
    # fifths of Young's first temperament as published: 697.92, 700.12, 701.96 (Barbour 2004 pp. 180-183)
    [("C G", 697.92), ("E B", 700.12), ("F# C#", 701.96), ("Bb F", 700.12)],
)
def test_youngs_first_has_its_published_fifths(fifth: str, cents: float) -> None:
    low, high = (_above_c("young 1")[NAMES.index(text)] for text in fifth.split())
    assert (high - low) % 1200 == pytest.approx(cents, abs=THIRD_PRINTED)


@pytest.mark.parametrize("name", ["werckmeister 3", "kirnberger 3", "vallotti", "young 1", "young 2", "equal"])
def test_a_well_temperament_closes_the_circle(name: str) -> None:
    # twelve fifths make seven octaves, and each enharmonic pair is one key: the theorem of a closed circle
    keys = [_cents(name, Interval(0, half_steps)) for half_steps in range(12)]
    fifths = [(keys[(place + 7) % 12] - keys[place]) % 1200 for place in range(12)]
    assert sum(fifths) == pytest.approx(7 * 1200)
    assert temperament(name).factor(interval("A4")) == temperament(name).factor(interval("d5"))


@given(st.sampled_from(list(TEMPERAMENTS)), intervals)
def test_an_octave_is_exactly_two_to_one(name: str, distance: Interval) -> None:
    factor = temperament(name).factor
    assert factor(distance + OCTAVE) == 2 * factor(distance)


@given(st.sampled_from(list(TEMPERAMENTS)), intervals)
def test_the_exact_ratio_and_the_factor_agree(name: str, distance: Interval) -> None:
    exact = temperament(name).ratio(distance)
    if exact is not None:
        assert temperament(name).factor(distance) == float(exact)


@given(st.sampled_from(["equal", "pythagorean", "meantone"]), intervals, intervals)
def test_in_regular_temperaments_intervals_add(name: str, one: Interval, other: Interval) -> None:
    assert _cents(name, one + other) == pytest.approx(_cents(name, one) + _cents(name, other), abs=FLOAT_ROUNDING_CENTS)


def test_meantone_thirds_are_exactly_pure() -> None:
    # the definition of quarter-comma meantone
    assert temperament("meantone").ratio(interval("M3")) == Fraction(5, 4)
    assert temperament("meantone").ratio(interval("P5")) is None


@pytest.mark.parametrize(
    ("ratio", "cents"),
    # commas: monzo's dictionary (tonalsoft.com) for the syntonic and Pythagorean; the others by arithmetic
    [
        (SYNTONIC_COMMA, 21.506),
        (PYTHAGOREAN_COMMA, 23.460),
        (PYTHAGOREAN_COMMA / SYNTONIC_COMMA, 1.954),
        (Fraction(128, 125), 41.059),
        (Fraction(648, 625), 62.565),
        (Fraction(2048, 2025), 19.553),
        (Fraction(64, 63), 27.264),
        (Fraction(225, 224), 7.712),
    ],
)
def test_commas_have_their_published_size(ratio: Fraction, cents: float) -> None:
    assert cents_of(ratio) == pytest.approx(cents, abs=PRINTED)


@pytest.mark.parametrize(
    ("short", "ratio", "cents"),
    # five-limit ratios, by arithmetic
    [
        ("P1", "1", 0.0), ("A1", "25/24", 70.672), ("m2", "16/15", 111.731), ("M2", "9/8", 203.910),
        ("m3", "6/5", 315.641), ("M3", "5/4", 386.314), ("P4", "4/3", 498.045), ("A4", "45/32", 590.224),
        ("d5", "64/45", 609.776), ("P5", "3/2", 701.955), ("A5", "25/16", 772.627), ("m6", "8/5", 813.686),
        ("M6", "5/3", 884.359), ("m7", "9/5", 1017.596), ("M7", "15/8", 1088.269), ("P8", "2", 1200.0),
        ("d2", "128/125", 41.059), ("d4", "32/25", 427.373), ("d1", "24/25", -70.672),
    ],
)  # fmt: skip
def test_just_intervals_have_their_ratios(short: str, ratio: str, cents: float) -> None:
    distance = interval("P8") - interval("d8") if short == "d1" else interval(short)
    distance = -distance if short == "d1" else distance
    assert temperament("just").ratio(distance) == Fraction(ratio)
    assert _cents("just", distance) == pytest.approx(cents, abs=PRINTED)


@pytest.mark.parametrize(
    ("choice", "value", "short", "cents"),
    # sizes by arithmetic
    [
        ("minor_third", "19/16", "m3", 297.513),
        ("minor_third", "equal", "m3", 300.0),
        ("minor_third", "32/27", "m3", 294.135),
        ("minor_third", "7/6", "m3", 266.871),
        ("second", "10/9", "M2", 182.404),
        ("seventh", "16/9", "m7", 996.090),
        ("seventh", "7/4", "m7", 968.826),
    ],
)
def test_a_choice_moves_its_own_interval_and_no_other(choice: str, value: str, short: str, cents: float) -> None:
    chosen, usual = temperament("just", **{choice: value}), temperament("just")
    assert cents_of(chosen.factor(interval(short))) == pytest.approx(cents, abs=PRINTED)
    others = [interval(each) for each in ("m2", "M3", "P4", "A4", "P5", "m6", "M6", "M7")]
    assert [chosen.ratio(each) for each in others] == [usual.ratio(each) for each in others]


@pytest.mark.parametrize("place", [place for place in RATIOS if place >= 4])
def test_four_fifths_up_the_line_are_a_pure_third(place: int) -> None:
    thirds = RATIOS[place] / RATIOS[place - 4]
    assert thirds in {Fraction(5, 4), Fraction(5, 8)}


@pytest.mark.parametrize("place", [place for place in RATIOS if place not in {-2, 2}])
def test_an_interval_and_its_inversion_make_an_octave(place: int) -> None:
    assert RATIOS[place] * RATIOS[-place] in {Fraction(1), Fraction(2)}


def _without_small_primes(number: int) -> int:
    for prime in (2, 3, 5):
        while number % prime == 0:
            number //= prime
    return number


@given(st.integers(-40, 40))
def test_the_just_rule_goes_on_beyond_the_table_in_twos_threes_and_fives(place: int) -> None:
    # the definition of five-limit just intonation, and an interval near its equal size
    ratio = just_ratio(place)
    steps = 4 * place % 7
    semitones = (place + 12 * steps) // 7
    assert _without_small_primes(ratio.numerator) == _without_small_primes(ratio.denominator) == 1
    assert abs(cents_of(ratio) - 100 * semitones) < 15 * max(4, abs(place))


@pytest.mark.parametrize("alias", [alias for alias, _ in ALIASES])
def test_every_other_name_leads_to_a_temperament(alias: str) -> None:
    assert temperament(alias.title()).name in TEMPERAMENTS


def test_unknown_names_and_choices_are_refused() -> None:
    with pytest.raises(ValueError, match="did you mean werckmeister 3"):
        temperament("werkmeister 3")
    with pytest.raises(ValueError, match="not a just minor third"):
        temperament("just", minor_third="5/4")
