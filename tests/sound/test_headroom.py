"""No mix of any score comes above -1 dB of full scale, and nothing is turned down only for a moment.

Referee  the samples themselves, against the decibel (20 log10 of the amplitude).
"""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from droner.score.score import Attack, ClickKind, Score
from droner.sound.click_voice import ClickVoice
from droner.sound.guide_voice import GuideVoice
from droner.sound.held_voice import HeldVoice, changes_tones, drone_tones
from droner.sound.mix import EachPart, Mix
from droner.sound.render import render_blocks
from droner.sound.timbre_table import DRONE_PARTIALS_DB
from droner.sound.timeline import Timeline
from droner.sound.voice import Voice
from droner.units import Beats
from tests.sound.measure import RATE_HZ, Wave, rendered
from tests.sound.scores import chord, click, day_of_work, hertz, note, score, tone

CEILING = 10 ** (-1 / 20) * (1 + 1e-5)
"""-1 dB, and the rounding of single precision."""


def crowded(tones: int = 5, hz_ratio: float = 1.0) -> Score:
    """Pure tones that share all they can, six-note chords, sixteen clicks a beat, a loud solo: all at once."""
    ratios = (1.0, 1.25, 1.5, 2.0, 3.0, 4.0)[:tones]
    hz = hertz("D3") * hz_ratio
    names = ("D4", "F#4", "A4", "D5", "F#5", "A5")
    return score(
        Beats(8),
        drone=[tone(bar, 1, "D3", hz * ratio) for bar in range(8) for ratio in ratios]
        + [tone(bar, 1, "E3", hz * (9 / 8) ** bar) for bar in range(8)],
        changes=[chord(Fraction(half, 2), Fraction(1, 2), names[half % 2 :]) for half in range(16)],
        clicks=[click(Fraction(place, 64), kind) for place in range(8 * 64) for kind in ClickKind],
        solo=[
            note(
                Fraction(quarter, 4),
                Fraction(1, 4),
                names[quarter % 6],
                velocity=127,
                accent=quarter % 3 == 0,
                attack=Attack.SLUR if quarter % 2 else Attack.TONGUE,
            )
            for quarter in range(32)
        ],
    )


def highest(wave: Wave) -> float:
    return float(np.max(np.abs(wave)))


@pytest.mark.parametrize("timbre", list(DRONE_PARTIALS_DB))
@pytest.mark.parametrize("hz_ratio", [0.5, 1.0, 4.0])
def test_a_crowded_score_stays_under_the_ceiling(timbre: str, hz_ratio: float) -> None:
    wave = rendered(crowded(hz_ratio=hz_ratio), Mix(guide=True, timbre=timbre))
    assert 0.28 < highest(wave) <= CEILING  # not by being nearly silent


def test_tones_that_give_way_to_one_another_stay_under_the_ceiling() -> None:
    """Where two tones cross at equal power, the sum is higher than either: that must be allowed for."""
    names = ("D3", "E3", "G3", "A3")
    eighth = Fraction(1, 8)
    moving = score(Beats(30), drone=[tone(place * eighth, eighth, names[place % 4]) for place in range(240)])
    assert highest(rendered(moving, Mix(gain_db=EachPart(drone=20)))) <= CEILING


GAINS = st.floats(-20, 30)


@settings(deadline=None, max_examples=25)
@given(
    drone=GAINS,
    changes=GAINS,
    click_db=GAINS,
    guide=GAINS,
    pan=st.floats(-1, 1),
    channels=st.sampled_from(["mono", "stereo"]),
    rate_hz=st.sampled_from([48_000, 44_100, 16_000]),
)
def test_no_mix_passes_the_ceiling(
    drone: float, changes: float, click_db: float, guide: float, pan: float, channels: str, rate_hz: int
) -> None:
    mix = Mix(
        gain_db=EachPart(drone, changes, click_db, guide),
        pan=EachPart(pan, -pan, pan / 2, 0),
        guide=True,
        channels="stereo" if channels == "stereo" else "mono",
    )
    for block in render_blocks(crowded(3), mix, rate_hz):
        assert highest(block.astype(np.float64)) <= CEILING


def test_a_day_of_work_is_under_the_ceiling() -> None:
    assert highest(rendered(day_of_work(2), Mix(guide=True))) <= CEILING


@pytest.mark.parametrize("part", ["drone", "changes", "click", "guide"])
def test_no_voice_passes_its_own_bound_at_any_frame(part: str) -> None:
    full = crowded(3)
    timeline = Timeline(full.tempo_map, RATE_HZ)
    falling = [
        note(place, 1, "A4", velocity=127 - 100 * (place % 2), attack=Attack.SLUR if place % 2 else Attack.TONGUE)
        for place in range(8)
    ]
    voices: dict[str, Voice] = {
        "drone": HeldVoice(drone_tones(full, timeline, 0.0, "medium"), RATE_HZ),
        "changes": HeldVoice(changes_tones(full, timeline, 0.0), RATE_HZ),
        "click": ClickVoice(full.clicks, timeline, 1.0),
        "guide": GuideVoice(score(Beats(8), solo=falling), timeline, 0.0),
    }
    voice = voices[part]
    wave = np.zeros(8 * RATE_HZ, dtype=np.float32)
    voice.add_to(wave, 0)
    peaks, bound = voice.peaks(), np.zeros(9 * RATE_HZ)
    for start, stop, height in zip(peaks.starts, peaks.stops, peaks.levels, strict=True):
        bound[start:stop] += height
    assert np.all(np.abs(wave) <= bound[: len(wave)] * (1 + 1e-5) + 1e-7)
    assert np.max(np.abs(wave)) > 0.1 * np.max(bound)  # a bound that means something


def test_the_track_is_turned_down_evenly() -> None:
    """A crowded bar at the end sets the gain; the lone drone at the start keeps its level to the last bit of it."""
    alone = score(Beats(8), drone=[tone(0, 4, "D3")])
    with_crowd = score(
        Beats(8),
        drone=[tone(0, 4, "D3")],
        changes=[chord(4, 4, ("D3", "F#3", "A3", "D4", "F#4", "A4", "D5", "F#5", "A5", "D6", "A6", "D7"))],
        clicks=[click(4 + Fraction(place, 100), ClickKind.ACCENT) for place in range(300)],
    )
    quiet, turned = (rendered(each, Mix(), 0, 4 * RATE_HZ) for each in (alone, with_crowd))
    ratio = turned[1_000:190_000][np.abs(quiet[1_000:190_000]) > 1e-3]
    ratio = ratio / quiet[1_000:190_000][np.abs(quiet[1_000:190_000]) > 1e-3]
    assert np.max(ratio) < 0.95
    assert np.ptp(ratio) < 1e-4


def test_a_score_with_room_is_not_turned_up() -> None:
    soft, louder = (
        rendered(score(Beats(2), drone=[tone(0, 2, "D3")]), Mix(gain_db=EachPart(drone=gain))) for gain in (-30, -24)
    )
    assert highest(louder) / highest(soft) == pytest.approx(10 ** (6 / 20), rel=1e-4)


def test_nothing_at_all_is_silence() -> None:
    assert not rendered(score(Beats(2)), Mix(guide=True)).any()
