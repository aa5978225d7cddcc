"""Tracks that are hard to make as loud as every other: partners who swell, drones that fall silent, a second of sound.

Referees  two independent meters, pyloudnorm and ffmpeg's ebur128 (with its true peak), on files as a player gets them.
          What cannot be as loud must have a reason that the meters show too: no room under the ceiling, or a click
          that goes on for minutes after the last tone. The drills are droner's own.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest

from droner.score.compose import compose
from droner.score.plain import click_score, drone_score
from droner.score.score import Score
from droner.sound.audio_file import write_audio
from droner.sound.formats_table import AUDIO_FORMATS
from droner.sound.mix import Mix
from droner.theory.meter import meter
from droner.theory.pitch import pitch
from droner.theory.tuning import tuning
from tests.score.composed import composed, patterns, rows
from tests.sound.measure import RATE_HZ, rendered
from tests.sound.meters import CEILING_DBTP, DRONE_LUFS, MIX_LUFS, NEAR_LU, by_ffmpeg, by_pyloudnorm, lufs_of

NO_ROOM_DB = 0.6
"""A track so near the ceiling has no room left: the rest is for encoders, and for what lies between samples."""


def both_meters(folder: Path, score: Score, mix: Mix, form: str = "wav") -> tuple[float, float, float]:
    """The loudness by either, and the true peak."""
    path = folder / f"track{AUDIO_FORMATS[form].suffix}"
    write_audio(path, score, mix, form)
    return by_pyloudnorm(path), *by_ffmpeg(path)


def drone_of(seconds: Fraction, *names: str) -> Score:
    tones = tuple(map(pitch, names))
    return drone_score(tones, tuning(440.0, "equal", tones[0].name), seconds)


def with_partner(drill: str, drone: str, partner: str, key: str, instrument: str, row: int | None = None) -> Score:
    block = f'drill = "{drill}"\ntempo = 120\ndrone = "{drone}"\npartner = {{ {partner} }}'
    return composed(block, key=key, top=f'instrument = "{instrument}"', played=rows()[row] if row else None).score


@pytest.mark.parametrize(
    ("drill", "more"),
    [
        ("octave scale", ""),
        ("thirds", 'changes = "plain cadence"'),
        ("swell", ""),  # forty seconds of click after it
        ("tongue bursts", ""),  # a hundred
        ("held note", ""),  # chords of its own
    ],
)
def test_a_drone_that_leaves_before_you_play_is_as_loud_as_every_other(tmp_path: Path, drill: str, more: str) -> None:
    """Whether the click alone passes the gate makes a difference of 14 LU: it must not."""
    score = composed(f'drill = "{drill}"\ntempo = 80\ndrone = "before you play"\n{more}', key="D major").score
    one, other, highest = both_meters(tmp_path, score, Mix())
    assert one == pytest.approx(MIX_LUFS, abs=NEAR_LU)
    assert other == pytest.approx(MIX_LUFS, abs=NEAR_LU)
    assert highest <= CEILING_DBTP


def test_before_minutes_of_click_the_drone_itself_is_as_loud_as_every_other() -> None:
    """No level of the click that can be heard would leave the gate to the drone: what stays alike is the drone."""
    score = composed('drill = "slow chromatic"\ntempo = 80\ndrone = "before you play"', key=None).score
    assert float(score.duration) > 300
    before = round(float(score.tempo_map.seconds_at(score.solo[0].onset)) * RATE_HZ)
    wave = rendered(score, Mix(), 0, before, levelled=True)
    assert lufs_of(wave, RATE_HZ) == pytest.approx(MIX_LUFS, abs=NEAR_LU)


@pytest.mark.parametrize("name", [name for name in patterns().drones if name not in ("none", "softer each session")])
@pytest.mark.parametrize("more", ["", 'changes = "none"\nclick = "silent"\ncount_in = 0'])
def test_every_task_is_as_loud_as_every_other(tmp_path: Path, name: str, more: str) -> None:
    score = composed(f'drill = "turning scale"\ntempo = 66\ndrone = "{name}"\n{more}', key="A major").score
    wanted = DRONE_LUFS if more else MIX_LUFS
    one, other, highest = both_meters(tmp_path, score, Mix())
    assert one == pytest.approx(wanted, abs=NEAR_LU)
    assert other == pytest.approx(wanted, abs=NEAR_LU)
    assert highest <= CEILING_DBTP


@pytest.mark.parametrize(
    ("drill", "drone", "partner", "key", "instrument", "timbre"),
    [
        ("partials", "follows the note", 'kind = "flute-like", cents = 50', "B major", "flute", "bright"),
        ("octaves from above", "tonic in octaves", 'kind = "flute-like", cents = 8', "Bb major", "clarinet", "bright"),
        ("fourths from above", "tonic in octaves", 'kind = "reed-like", cents = 20', "Eb major", "flute", "pure"),
        ("turning scale", "tonic and fifth", 'kind = "tired low", cents = 30', "D major", "bassoon", "medium"),
        ("turning scale", "tonic and fifth", 'kind = "warming room", cents = 3', "D major", "bassoon", "bare"),
    ],
)
def test_a_partner_is_as_loud_as_every_other_track_where_there_is_room(
    tmp_path: Path, drill: str, drone: str, partner: str, key: str, instrument: str, timbre: str
) -> None:
    score = with_partner(drill, drone, partner, key, instrument)
    one, other, highest = both_meters(tmp_path, score, Mix(timbre=timbre))
    assert one == pytest.approx(MIX_LUFS, abs=NEAR_LU)
    assert other == pytest.approx(MIX_LUFS, abs=NEAR_LU)
    assert highest <= CEILING_DBTP


@pytest.mark.parametrize("form", ["wav", "ogg", "opus", "mp3"])
def test_a_swelling_partner_is_softer_only_where_the_ceiling_leaves_no_room(tmp_path: Path, form: str) -> None:
    """Sines low on a bassoon, swelling: the measure hears little of them, and they rise high."""
    score = with_partner(
        "broken arpeggio", "tonic and fifth", 'kind = "flute-like", cents = 20', "C minor", "bassoon", 49
    )
    one, other, highest = both_meters(tmp_path, score, Mix(timbre="pure"), form)
    assert one < MIX_LUFS - NEAR_LU
    assert other < MIX_LUFS - NEAR_LU
    assert CEILING_DBTP - NO_ROOM_DB <= highest <= CEILING_DBTP


@pytest.mark.parametrize("seconds", ["0.4", "0.5", "1", "1.25", "2", "5"])
@pytest.mark.parametrize("names", [("D3",), ("D3", "A3"), ("A1", "C#2", "E2")])
def test_a_drone_of_a_second_is_as_loud_as_one_of_an_hour(tmp_path: Path, seconds: str, names: tuple[str, ...]) -> None:
    one, other, highest = both_meters(tmp_path, drone_of(Fraction(seconds), *names), Mix())
    assert one == pytest.approx(DRONE_LUFS, abs=NEAR_LU)
    assert other == pytest.approx(DRONE_LUFS, abs=NEAR_LU)
    assert highest <= CEILING_DBTP


def test_a_track_too_short_to_have_a_loudness_has_that_of_itself_again_and_again() -> None:
    """BS.1770 measures blocks of 400 ms: a shorter track has none until it is played several times over."""
    wave = rendered(drone_of(Fraction(1, 5), "D3", "A3"), Mix(), levelled=True)
    assert len(wave) < 0.4 * RATE_HZ
    assert lufs_of(np.tile(wave, 10), RATE_HZ) == pytest.approx(DRONE_LUFS, abs=NEAR_LU)


@pytest.mark.parametrize("bpm", [60, 200])
def test_a_click_alone_is_only_kept_under_the_ceiling(tmp_path: Path, bpm: int) -> None:
    score = click_score(meter("4/4"), patterns().clicks["every beat"], Fraction(bpm), 1, 440.0)
    _, _, highest = both_meters(tmp_path, score, Mix())
    assert -12 < highest <= CEILING_DBTP


@pytest.mark.parametrize(("before", "softer_db"), [(1, 0.5), (10, 5.0), (40, 20.0)])
def test_what_the_score_makes_softer_is_softer_by_just_that(tmp_path: Path, before: int, softer_db: float) -> None:
    """Half a decibel a session, as its row says."""
    block = 'drill = "octave scale"\ndrone = "softer each session"\nchanges = "none"\nclick = "silent"\ncount_in = 0'
    made = composed(block, key="D major")
    one, _, _ = both_meters(tmp_path, compose(made.item, made.session, before), Mix())
    assert one == pytest.approx(DRONE_LUFS - softer_db, abs=NEAR_LU)
