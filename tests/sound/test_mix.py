"""The parts are put together as the mix says.

Referee  the decibel (20 log10 of the amplitude) and superposition: a mix is the sum of its parts.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from droner.sound.mix import EachPart, Mix
from droner.sound.render import render_blocks
from droner.sound.timbre_table import DRONE_PARTIALS_DB
from droner.units import Beats
from tests.sound.measure import (
    CHANGES_ALONE,
    CLICK_ALONE,
    DRONE_ALONE,
    GUIDE_ALONE,
    OFF,
    RATE_HZ,
    Wave,
    decibels,
    level,
    rendered,
    vector,
)
from tests.sound.scores import chord, click, hertz, note, score, tone

SINGLE_PRECISION = 1e-6
QUIET = EachPart(-12, -12, -12, -12)
"""Low enough that nothing has to be turned down."""

SCORE = score(
    Beats(4),
    drone=[tone(0, 4, "D3"), tone(0, 4, "A3")],
    changes=[chord(0, 4, ("D4", "F#4", "A4"))],
    clicks=[click(beat) for beat in range(4)],
    solo=[note(0, 4, "D5")],
)


def both(mix: Mix) -> tuple[Wave, Wave]:
    blocks = np.concatenate(list(render_blocks(SCORE, replace(mix, levelled=False)))).astype(np.float64)
    return blocks[:, 0], blocks[:, 1]


def test_a_mix_is_the_sum_of_its_parts() -> None:
    parts = (DRONE_ALONE, CHANGES_ALONE, CLICK_ALONE, GUIDE_ALONE)
    alone = [
        rendered(SCORE, Mix(EachPart(*(OFF if each == OFF else -12.0 for each in gains(part))), guide=part.guide))
        for part in parts
    ]
    assert np.allclose(rendered(SCORE, Mix(QUIET, guide=True)), np.sum(alone, axis=0), atol=SINGLE_PRECISION)


def gains(mix: Mix) -> tuple[float, float, float, float]:
    return mix.gain_db.drone, mix.gain_db.changes, mix.gain_db.click, mix.gain_db.guide


@pytest.mark.parametrize("part", ["drone", "changes", "click", "guide"])
def test_a_gain_moves_one_part_by_so_many_decibels(part: str) -> None:
    off = dict.fromkeys(("drone", "changes", "click", "guide"), OFF)
    at_20, at_26 = (rendered(SCORE, Mix(EachPart(**{**off, part: gain}), guide=True)) for gain in (-20.0, -26.0))
    assert decibels(level(at_20) / level(at_26)) == pytest.approx(6.0, abs=1e-3)


def test_parts_left_out_are_silent() -> None:
    assert not rendered(SCORE, Mix(EachPart(OFF, OFF, OFF, OFF), guide=True)).any()


def test_the_middle_plays_in_both_channels_as_the_mono_mix() -> None:
    left, right = both(Mix(QUIET, channels="stereo"))
    mono = rendered(SCORE, Mix(QUIET))
    assert np.array_equal(left, right)
    assert np.allclose(left, mono, atol=SINGLE_PRECISION)


def test_drone_left_and_click_right_are_wholly_apart() -> None:
    pan = EachPart(drone=-1, changes=-1, click=1)
    left, right = both(Mix(QUIET, pan, channels="stereo"))
    drone, changes = (
        rendered(SCORE, Mix(EachPart(*gain_db))) for gain_db in ((-12, OFF, OFF, OFF), (OFF, -12, OFF, OFF))
    )
    assert np.allclose(left, drone + changes, atol=SINGLE_PRECISION)
    assert np.allclose(right, rendered(SCORE, Mix(EachPart(OFF, OFF, -12, OFF))), atol=SINGLE_PRECISION)


def test_half_way_to_the_left_halves_the_right() -> None:
    left, right = both(Mix(EachPart(-12, OFF, OFF, OFF), EachPart(drone=-0.5), channels="stereo"))
    assert np.allclose(right, left / 2, atol=SINGLE_PRECISION)


@pytest.mark.parametrize("timbre", list(DRONE_PARTIALS_DB))
def test_timbres_differ_in_colour_and_not_in_level(timbre: str) -> None:
    lone = score(Beats(3), drone=[tone(0, 3, "D3")])
    levels = [level(rendered(lone, Mix(timbre=each), RATE_HZ, 2 * RATE_HZ)) for each in (timbre, "medium")]
    assert decibels(levels[0] / levels[1]) == pytest.approx(0, abs=0.05)


def test_bright_medium_and_pure_go_from_many_strong_partials_to_few() -> None:
    """A low drone (D3) through a small loudspeaker: the share of the level above 440 Hz, partials 3 to 10."""
    lone = score(Beats(3), drone=[tone(0, 3, "D3")])
    shares = []
    for timbre in ("bright", "medium", "pure"):
        wave = rendered(lone, Mix(timbre=timbre), RATE_HZ, 2 * RATE_HZ)
        lines = np.array([abs(vector(wave, hertz("D3") * partial, RATE_HZ)) for partial in range(1, 13)])
        shares.append(decibels(float(np.sqrt(np.sum(lines[2:10] ** 2) / np.sum(lines**2)))))
        assert np.all(20 * np.log10(lines[:10] / lines[0]) > -40)  # clear to the tenth
    assert shares[0] > shares[1] > shares[2]
    assert shares[1] > -4
    assert shares[2] < -8


def test_the_chords_stay_below_the_drone() -> None:
    drone = level(rendered(SCORE, Mix(EachPart(0, OFF, OFF, OFF))))
    chords = level(rendered(SCORE, Mix(EachPart(OFF, 0, OFF, OFF))))
    assert decibels(drone / chords) > 3


def test_a_mix_that_cannot_be_is_refused() -> None:
    with pytest.raises(ValueError, match="timbre"):
        Mix(timbre="loud")
    with pytest.raises(ValueError, match="pan of the drone"):
        Mix(pan=EachPart(drone=1.5))
    four: Any = "quadraphonic"
    with pytest.raises(ValueError, match="neither mono nor stereo"):
        Mix(channels=four)
