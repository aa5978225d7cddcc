"""The guide plays the solo: right pitch, right loudness, right articulation.

Referee  the spectrum and the short-time level of the samples; the velocity law of DLS Level 1, 40 log10(v / 127) dB.
"""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest

from droner.score.score import Attack, SoloNote
from droner.score.tempo_map import tempo_map
from droner.sound.mix import Mix
from droner.theory.meter import Meter
from droner.units import Beats
from tests.sound.measure import (
    GUIDE_ALONE,
    RATE_HZ,
    Wave,
    cents,
    decibels,
    hertz_off,
    level,
    rendered,
    short_levels,
    vector,
)
from tests.sound.scores import hertz, note, score, steady

IN_TUNE_CENTS = 0.05
EVEN_DB = 0.1
DIP_DB = 1.0
"""A dip that is just heard."""

MILLISECOND = RATE_HZ // 1000


def played(*notes: SoloNote) -> Wave:
    end = max(each.onset + each.length for each in notes)
    return rendered(score(end, solo=notes), GUIDE_ALONE)


def middle_level(wave: Wave, start: float, stop: float) -> float:
    return level(wave[int(start * RATE_HZ) : int(stop * RATE_HZ)])


def test_without_being_asked_nobody_plays_the_solo() -> None:
    assert not rendered(score(Beats(2), solo=[note(0, 2, "A4")]), Mix()).any()


@pytest.mark.parametrize("name", ["B3", "A4", "D7"])
def test_a_note_is_in_tune(name: str) -> None:
    wave = played(note(0, 8, name))
    off = hertz_off(wave[RATE_HZ : 7 * RATE_HZ], hertz(name), RATE_HZ)
    assert abs(cents(off, hertz(name))) < IN_TUNE_CENTS


def test_a_slurred_note_is_in_tune() -> None:
    wave = played(note(0, 1, "A4"), note(1, 8, "B4", attack=Attack.SLUR))
    off = hertz_off(wave[2 * RATE_HZ : 8 * RATE_HZ], hertz("B4"), 2 * RATE_HZ)
    assert abs(cents(off, hertz("B4"))) < IN_TUNE_CENTS


@pytest.mark.parametrize("velocity", [16, 49, 80, 112])
def test_loudness_follows_the_velocity_law(velocity: int) -> None:
    loudest = middle_level(played(note(0, 2, "A4", velocity=127)), 0.5, 1.5)
    this = middle_level(played(note(0, 2, "A4", velocity=velocity)), 0.5, 1.5)
    assert decibels(this / loudest) == pytest.approx(40 * np.log10(velocity / 127), abs=0.01)


def test_an_accent_adds_three_decibels() -> None:
    plain = middle_level(played(note(0, 2, "A4")), 0.5, 1.5)
    accented = middle_level(played(note(0, 2, "A4", accent=True)), 0.5, 1.5)
    assert decibels(accented / plain) == pytest.approx(3.0, abs=0.01)


def test_a_swell_rises_and_falls_through_its_points() -> None:
    """Velocity 40 at the start, 120 half way, 40 at the end, straight lines between: 80 at each quarter."""
    shape = ((Fraction(1, 2), 120), (Fraction(1), 40))
    wave = played(note(0, 8, "A4", velocity=40, shape=shape))
    even = middle_level(played(note(0, 2, "A4", velocity=80)), 0.5, 1.5)
    for second, velocity in ((1, 60), (2, 80), (4, 120), (6, 80), (7, 60)):
        heard = decibels(middle_level(wave, second - 0.05, second + 0.05) / even)
        assert heard == pytest.approx(40 * np.log10(velocity / 80), abs=EVEN_DB * 2)


def onset_ms(attack: Attack) -> float:
    """How long the start takes to come within 1 dB of the note."""
    wave = played(note(0, 1, "A5", attack=attack))
    rising = short_levels(wave, 4 * MILLISECOND)
    return float(np.argmax(rising > 10 ** (-1 / 20) * middle_level(wave, 0.3, 0.6)) / MILLISECOND)


def test_the_tongue_is_quickest_and_the_air_slowest() -> None:
    tongue, back, air = (onset_ms(attack) for attack in (Attack.TONGUE, Attack.BACK, Attack.AIR))
    assert 1 < tongue < back < air
    assert tongue < 10
    assert air > 30


def test_the_back_of_the_tongue_is_a_little_softer() -> None:
    tongue, back = (
        middle_level(played(note(0, 2, "A4", attack=attack)), 0.5, 1.5) for attack in (Attack.TONGUE, Attack.BACK)
    )
    assert 0.5 < decibels(tongue / back) < 3


@pytest.mark.parametrize(("first", "second"), [("A4", "B4"), ("D4", "D6"), ("E5", "E5")])
def test_a_slur_has_no_dip_and_no_knock(first: str, second: str) -> None:
    wave = played(note(0, 1, first), note(1, 1, second, attack=Attack.SLUR))
    levels = short_levels(wave[RATE_HZ - 9_600 : RATE_HZ + 9_600], 20 * MILLISECOND)
    even = middle_level(wave, 0.3, 0.7)
    assert decibels(even / float(np.min(levels))) < DIP_DB
    assert decibels(float(np.max(levels)) / even) < DIP_DB
    steepest = max(
        np.max(np.abs(np.diff(wave[RATE_HZ // 3 : RATE_HZ // 2]))), np.max(np.abs(np.diff(wave[-24_000:-9_600])))
    )
    assert np.max(np.abs(np.diff(wave[RATE_HZ - 9_600 : RATE_HZ + 9_600]))) < 1.02 * steepest


def test_a_slur_to_the_same_pitch_goes_on_as_one_note() -> None:
    slurred = played(note(0, 1, "A4"), note(1, 1, "A4", attack=Attack.SLUR))
    assert np.allclose(slurred, played(note(0, 2, "A4")), atol=1e-6)


def test_a_tongued_note_is_parted_from_the_one_before() -> None:
    wave = played(note(0, 1, "A4"), note(1, 1, "B4"))
    levels = short_levels(wave[RATE_HZ - 2_400 : RATE_HZ + 2_400], 3 * MILLISECOND)
    assert decibels(middle_level(wave, 0.3, 0.7) / float(np.min(levels))) > 12


def test_a_slur_leads_the_loudness_over() -> None:
    """From velocity 120 to 60, the level is between the two all the way."""
    wave = played(note(0, 1, "A4", velocity=120), note(1, 1, "B4", velocity=60, attack=Attack.SLUR))
    levels = short_levels(wave[RATE_HZ - 4_800 : RATE_HZ + 4_800], 10 * MILLISECOND)
    loud, soft = middle_level(wave, 0.3, 0.7), middle_level(wave, 1.3, 1.7)
    assert decibels(loud / soft) == pytest.approx(40 * np.log10(120 / 60), abs=EVEN_DB)
    assert decibels(float(np.max(levels)) / loud) < DIP_DB
    assert decibels(soft / float(np.min(levels))) < DIP_DB


def test_a_note_sounds_for_as_long_as_it_is_sounded() -> None:
    wave = played(note(1, 1, "A4", sounded=Fraction(1, 2)), note(3, 1, "A4"))
    sounding = np.flatnonzero(np.abs(wave[: 3 * RATE_HZ]) > 0)
    assert RATE_HZ <= sounding[0] <= RATE_HZ + 1  # a sine starts at nothing
    assert 1.5 * RATE_HZ - 2 <= sounding[-1] < 1.5 * RATE_HZ


def test_a_slur_after_a_gap_starts_softly() -> None:
    wave = played(note(0, 1, "A4", sounded=Fraction(1, 2)), note(1, 1, "B4", attack=Attack.SLUR))
    assert not wave[RATE_HZ // 2 : RATE_HZ].any()
    assert np.max(np.abs(wave[RATE_HZ : RATE_HZ + MILLISECOND])) < 0.02


@pytest.mark.parametrize(
    ("meter", "quarter_us", "beat_us"),
    [
        (None, 1_000_000, 1_000_000),
        (None, 750_000, 750_000),
        (Meter((4,), 4), 600_000, 600_000),
        (Meter((6,), 8), 500_000, 750_000),  # the beat is dotted: three eighths
    ],
)
def test_pulses_are_counted_by_the_beat_and_leave_the_pitch_still(
    meter: Meter | None, quarter_us: int, beat_us: int
) -> None:
    """The level holds a line at pulses x beats a second, and the pitch line does not move."""
    one = score(Beats(24), solo=[note(0, 24, "A4", pulses=3)], tempos=steady(quarter_us), meter=meter)
    wave = rendered(one, GUIDE_ALONE)
    levels = short_levels(wave, RATE_HZ // 50)
    levels = levels[RATE_HZ // 2 : -RATE_HZ // 2]
    hz = np.fft.rfftfreq(len(levels), 1 / RATE_HZ)
    lines = np.abs(np.fft.rfft((levels - levels.mean()) * np.hanning(len(levels))))
    assert hz[np.argmax(lines)] == pytest.approx(3e6 / beat_us, abs=0.1)
    assert 2 < decibels(float(np.max(levels) / np.min(levels))) < 6
    assert abs(cents(hertz_off(wave[RATE_HZ : 9 * RATE_HZ], 442.0, RATE_HZ), 442.0)) < IN_TUNE_CENTS


def test_pulses_keep_with_the_beat_when_the_tempo_changes() -> None:
    """Four beats at 60, then four at 120: a pulse a beat is loudest on every beat of both."""
    tempos = tempo_map([(Beats(0), 1_000_000), (Beats(4), 500_000)])
    wave = rendered(score(Beats(8), solo=[note(0, 8, "A5", pulses=1)], tempos=tempos), GUIDE_ALONE)
    levels = short_levels(wave, 10 * MILLISECOND)
    for beat_at, next_at in ((1.0, 2.0), (3.0, 4.0), (4.5, 5.0), (5.0, 5.5)):
        loud, between, again = (
            levels[int(at * RATE_HZ) - 5 * MILLISECOND] for at in (beat_at, (beat_at + next_at) / 2, next_at)
        )
        assert decibels(loud / between) == pytest.approx(decibels(again / between), abs=EVEN_DB)
        assert decibels(loud / between) > 3


def test_the_guide_is_nearly_a_pure_tone() -> None:
    """As flutes are: the second partial at least 6 dB below the first, five partials and no more."""
    wave = played(note(0, 3, "A4"))[RATE_HZ : 2 * RATE_HZ]
    lines = [abs(vector(wave, 442.0 * partial, RATE_HZ)) for partial in range(1, 8)]
    assert decibels(lines[0] / lines[1]) > 6
    assert decibels(lines[0] / max(lines[5:])) > 80


def test_notes_that_run_into_each_other_give_way() -> None:
    """One player, one note: the earlier ends where the later starts."""
    wave = played(note(0, 2, "A4"), note(1, 1, "E5"))
    assert (
        decibels(abs(vector(wave[RATE_HZ:], 442.0, RATE_HZ)) / abs(vector(wave[RATE_HZ:], hertz("E5"), RATE_HZ))) < -60
    )


def test_a_slur_to_another_loudness_has_no_step() -> None:
    """The slur comes at the crest of the wave, 442.25 turns in, where a step of level would be a step of the wave."""
    crest = Fraction(1769, 1768)
    wave = played(note(0, crest, "A4", velocity=120), note(crest, 1, "A4", velocity=60, attack=Attack.SLUR))
    loudest_step = np.max(np.abs(np.diff(wave[RATE_HZ // 4 : RATE_HZ // 2])))
    assert np.max(np.abs(np.diff(wave[RATE_HZ // 4 : RATE_HZ * 3 // 2]))) < 1.02 * loudest_step
