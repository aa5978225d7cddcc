"""Clicks fall on their exact frames, over an hour of changing tempo.

Referee  whole-number arithmetic: an onset is the sum of the microseconds of the beats before it; its frame is
         that sum times the rate, rounded half up once (floor(2 x + 1) / 2 in fractions).
"""

from __future__ import annotations

from fractions import Fraction
from itertools import accumulate

import numpy as np
import pytest

from droner.score.score import ClickKind
from droner.score.tempo_map import tempo_map
from droner.sound.render import frames_of, render_blocks
from droner.units import Beats
from tests.sound.measure import CLICK_ALONE, rendered
from tests.sound.scores import click, score

BEATS = 5_400
QUARTERS_US = [round(60_000_000 / (60 + 60 * beat / BEATS)) for beat in range(BEATS)]
"""From 60 to 120 beats a minute, a new tempo on every beat: 62 minutes."""


def frame_of(microseconds: Fraction, rate_hz: int) -> int:
    exact = microseconds * rate_hz / 1_000_000
    return int((2 * exact + 1) // 2)


def expected_frames(rate_hz: int) -> list[int]:
    """Two clicks a beat: on it, and a third of the way to the next."""
    onsets: list[Fraction] = []
    for start, quarter in zip([0, *accumulate(QUARTERS_US)], QUARTERS_US, strict=False):
        onsets += [Fraction(start), start + Fraction(quarter, 3)]
    return [frame_of(onset, rate_hz) for onset in onsets]


@pytest.mark.parametrize("rate_hz", [48_000, 44_100])
def test_every_click_of_an_hour_of_changing_tempo_starts_on_its_frame(rate_hz: int) -> None:
    tempos = tempo_map([(Beats(beat), quarter) for beat, quarter in enumerate(QUARTERS_US)])
    clicks = [click(beat + third, ClickKind.BEAT) for beat in range(BEATS) for third in (0, Fraction(1, 3))]
    hour = score(Beats(BEATS), clicks=clicks, tempos=tempos)
    quiet_before = rate_hz // 100
    heard: list[int] = []
    start, last_sound = 0, -quiet_before
    for block in render_blocks(hour, CLICK_ALONE, rate_hz):
        sounding = start + np.flatnonzero(block[:, 0])
        since = np.diff(sounding, prepend=last_sound)
        heard += sounding[since >= quiet_before].tolist()
        last_sound = int(sounding[-1]) if len(sounding) else last_sound
        start += len(block)
    assert heard == expected_frames(rate_hz)
    assert frames_of(hour, rate_hz) == start == frame_of(Fraction(sum(QUARTERS_US)), rate_hz)


@pytest.mark.parametrize("kind", list(ClickKind))
def test_the_first_sample_of_a_click_is_its_highest(kind: ClickKind) -> None:
    wave = rendered(score(Beats(1), clicks=[click(Fraction(1, 2), kind)]), CLICK_ALONE)
    assert not wave[:24_000].any()
    assert abs(wave[24_000]) == np.max(np.abs(wave)) > 0.05


def test_a_click_at_the_end_is_cut_off_by_the_end() -> None:
    at_end = score(Beats(1), clicks=[click(Fraction(999, 1000)), click(1)])
    wave = rendered(at_end, CLICK_ALONE)
    assert len(wave) == 48_000
    assert wave[-48:].any()
