"""Every track is as loud as every other, and nothing in it is too high.

Referees  two independent meters, pyloudnorm and ffmpeg's ebur128 (integrated loudness; the true peak by ffmpeg's
          oversampling), on files as a player gets them; EBU Tech 3341 (v4), cases 1 to 6 and 15 to 19, for our own
          reckoning, which never sees a sample. The drills are droner's own.
"""

from __future__ import annotations

from math import log10
from pathlib import Path

import numpy as np
import pytest

from droner.score.compose import compose
from droner.score.score import Score
from droner.sound.additive import in_phase
from droner.sound.audio_file import write_audio
from droner.sound.formats_table import AUDIO_FORMATS
from droner.sound.k_weighting import power_weights
from droner.sound.loudness import Energy
from droner.sound.mix import EachPart, Mix
from droner.sound.peak import peak
from droner.sound.timbre_table import TIMBRES
from tests.score.composed import MAJOR_KEYS, MINOR_KEYS, composed, patterns, rows
from tests.sound.measure import RATE_HZ, decibels, level, rendered
from tests.sound.meters import CEILING_DBTP, DRONE_LUFS, MIX_LUFS, NEAR_LU, by_ffmpeg, by_pyloudnorm

DRILLS = sorted(patterns().drills)
KEYS = MAJOR_KEYS + MINOR_KEYS


def track(number: int, drill: str) -> Score:
    """A drill in one of the keys and one of the variants, at a lively tempo."""
    key = KEYS[7 * number % 24] if patterns().drills[drill].keyed else None
    return composed(f'drill = "{drill}"\ntempo = 132', key=key, played=rows()[13 * number % 60]).score


@pytest.mark.parametrize(("number", "drill"), list(enumerate(DRILLS)))
def test_every_drill_is_as_loud_as_every_other(tmp_path: Path, number: int, drill: str) -> None:
    guide = bool(number % 2)
    write_audio(tmp_path / "track.wav", track(number, drill), Mix(guide=guide))
    loudness, highest = by_ffmpeg(tmp_path / "track.wav")
    assert by_pyloudnorm(tmp_path / "track.wav") == pytest.approx(MIX_LUFS, abs=NEAR_LU)
    assert loudness == pytest.approx(MIX_LUFS, abs=NEAR_LU)
    assert highest <= CEILING_DBTP


@pytest.mark.parametrize("name", list(AUDIO_FORMATS))
@pytest.mark.parametrize("pan", [EachPart(), EachPart(drone=-1, changes=-0.5, click=1)])
def test_every_form_is_as_loud_as_every_other(tmp_path: Path, name: str, pan: EachPart) -> None:
    path = tmp_path / f"track{AUDIO_FORMATS[name].suffix}"
    for number, drill in enumerate(("turning scale", "triads on every degree", "curving study")):
        mix = Mix(guide=True, pan=pan, channels="stereo" if pan.click else "mono")
        write_audio(path, track(number, drill), mix, name)
        loudness, highest = by_ffmpeg(path)
        assert loudness == pytest.approx(MIX_LUFS, abs=NEAR_LU)
        assert highest <= CEILING_DBTP


@pytest.mark.parametrize("timbre", list(TIMBRES))
@pytest.mark.parametrize("temperament", ["just", "equal", "meantone"])
def test_a_drone_alone_is_a_little_softer(tmp_path: Path, timbre: str, temperament: str) -> None:
    top = f'[tuning]\ntemperament = "{temperament}"'
    rows_of_block = 'drill = "turning scale"\ntempo = 60\nchanges = "none"\nclick = "every beat"'
    one = composed(rows_of_block, key="Eb major", top=top).score
    write_audio(tmp_path / "d.wav", one, Mix(gain_db=EachPart(click=float("-inf")), timbre=timbre))
    loudness, highest = by_ffmpeg(tmp_path / "d.wav")
    assert loudness == pytest.approx(DRONE_LUFS, abs=NEAR_LU)
    assert highest <= CEILING_DBTP


@pytest.mark.parametrize("block", ['changes = "none"\nclick = "silent"\ncount_in = 0', 'click = "every beat"'])
def test_a_drone_that_gets_softer_by_session_does_so_in_the_track(block: str) -> None:
    """Forty sessions take twenty decibels off it (its row says so), and nothing off the rest: a power ratio of 100."""
    made = composed(f'drill = "swell"\ntempo = 60\ndrone = "softer each session"\n{block}', key="D major")
    first, later = (
        rendered(compose(made.item, made.session, before), Mix(), 0, RATE_HZ, levelled=True) for before in (0, 40)
    )
    alone = slice(RATE_HZ // 2, RATE_HZ)  # in the lead-in, with nothing else
    assert decibels(level(first[alone]) / level(later[alone])) == pytest.approx(20.0, abs=0.01)


CASES = {  # EBU Tech 3341, table 1: peak level of a 1 kHz sine in both channels in dBFS, and for how many seconds
    1: ((-23.0, 20.0),),
    2: ((-33.0, 20.0),),
    3: ((-36.0, 10.0), (-23.0, 60.0), (-36.0, 10.0)),
    4: ((-72.0, 10.0), (-36.0, 10.0), (-23.0, 60.0), (-36.0, 10.0), (-72.0, 10.0)),
    5: ((-26.0, 20.0), (-20.0, 20.1), (-26.0, 20.0)),
}
EXPECTED_LUFS = {1: -23.0, 2: -33.0, 3: -23.0, 4: -23.0, 5: -23.0}
CASE_LU = 0.1


def sine_power(level_dbfs: float) -> float:
    """Weighted power of a 1 kHz sine of this peak in one channel."""
    return float(10 ** (level_dbfs / 10) / 2 * power_weights(np.array([1000.0]))[0])


@pytest.mark.parametrize("case", list(CASES))
def test_our_reckoning_passes_the_compliance_cases(case: int) -> None:
    frames = round(sum(seconds for _, seconds in CASES[case]) * RATE_HZ)
    energy, start = Energy(frames, RATE_HZ), 0.0
    for level_dbfs, seconds in CASES[case]:
        energy.add(start, start + seconds * RATE_HZ, 2 * sine_power(level_dbfs))
        start += seconds * RATE_HZ
    assert energy.lufs() == pytest.approx(EXPECTED_LUFS[case], abs=CASE_LU)


def test_our_reckoning_passes_the_case_of_five_channels() -> None:
    """Case 6: left and right -28, centre -24, surrounds -30 dBFS for 20 s; BS.1770 counts a surround 1.41 times."""
    energy = Energy(20 * RATE_HZ, RATE_HZ)
    energy.add(0, 20 * RATE_HZ, 2 * sine_power(-28.0) + sine_power(-24.0) + 2 * 1.41 * sine_power(-30.0))
    assert energy.lufs() == pytest.approx(-23.0, abs=CASE_LU)


@pytest.mark.parametrize(
    ("hz", "amplitude", "degrees", "expected_dbtp"),
    [  # EBU Tech 3341, cases 15 to 19: at 48 kHz a quarter, a sixth and an eighth of the rate
        (12_000.0, 0.50, 0.0, -6.0),
        (12_000.0, 0.50, 45.0, -6.0),
        (8_000.0, 0.50, 60.0, -6.0),
        (6_000.0, 0.50, 67.5, -6.0),
        (12_000.0, 1.41, 45.0, 3.0),
    ],
)
def test_our_bound_is_the_true_peak_of_a_sine(
    hz: float, amplitude: float, degrees: float, expected_dbtp: float
) -> None:
    highest = peak((in_phase(hz, (amplitude,), degrees / 360),))
    assert -0.4 <= 20 * log10(highest) - expected_dbtp <= 0.2
