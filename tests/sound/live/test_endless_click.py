"""A click without end. Referees: the audio file's samples; the sums of beats done by hand in exact fractions."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest

from droner.live.click_course import BARS_KEPT, Bars
from droner.live.words import Act, ChangeTo
from droner.practice.pattern import ClickPattern
from droner.score.plain import click_score
from droner.sound.live.endless_click import EndlessClick, endless_click
from droner.sound.live.source import Reader
from droner.sound.mix import Mix
from droner.sound.render import render_blocks
from droner.theory.meter import meter
from droner.units import Beats
from tests.sound.live.fakes import RATE_HZ
from tests.sound.live.room import Room

SAME = 1e-6
EVERY_BEAT = ClickPattern("every beat", "")
FOUR = meter("4/4")


def clicking(bpm: int, bar: str = "4/4", pattern: ClickPattern = EVERY_BEAT) -> EndlessClick:
    return endless_click(meter(bar), pattern, Fraction(bpm), Mix())


def changed(new: EndlessClick, old: EndlessClick, at: int) -> EndlessClick:
    made = new.after(old, at)
    assert made is not None
    return made


def onsets(source: EndlessClick, seconds: int) -> list[int]:
    """The frames on which clicks begin: a click's first sample is its highest, after silence."""
    wave = np.abs(Reader(source, 1).read_all(0, seconds * RATE_HZ)[:, 0])
    sounding = np.flatnonzero(wave > 0.01)
    return [int(sounding[0]), *(int(sounding[gap + 1]) for gap in np.flatnonzero(np.diff(sounding) > RATE_HZ // 50))]


@pytest.mark.parametrize(
    ("bar", "bpm", "pattern"),
    [
        ("4/4", 84, EVERY_BEAT),
        ("2+2+3/8", 200, EVERY_BEAT),
        ("6/8", 60, ClickPattern("divided", "", divide=0)),
        ("3/4", 132, ClickPattern("dropped", "", drop=Fraction(1, 3))),
        ("4/4", 100, ClickPattern("on and off", "", bars_on=2, bars_off=1)),
    ],
)
def test_the_clicks_are_those_of_the_file(bar: str, bpm: int, pattern: ClickPattern) -> None:
    bars = 12
    made = np.concatenate(list(render_blocks(click_score(meter(bar), pattern, Fraction(bpm), bars, 440.0), Mix())))
    heard = Reader(clicking(bpm, bar, pattern), 1).read_all(0, len(made))
    kept = len(made) - RATE_HZ // 10  # the file cuts off what would ring on
    assert np.max(np.abs(heard[:kept] - made[:kept])) < SAME


def test_a_new_tempo_keeps_the_phase() -> None:
    """60, then 120 from a quarter of a second after the third click: three quarters of a beat are left, 0.375 s."""
    made = changed(clicking(120), clicking(60), 2 * RATE_HZ + RATE_HZ // 4)
    assert made.since == 2 * RATE_HZ + RATE_HZ // 4
    fourth = 2 * RATE_HZ + RATE_HZ // 4 + RATE_HZ * 3 // 8
    assert onsets(made, 5)[:6] == [0, RATE_HZ, 2 * RATE_HZ, fourth, fourth + RATE_HZ // 2, fourth + RATE_HZ]
    before = Reader(clicking(60), 1).read_all(0, made.since)
    assert np.array_equal(Reader(made, 1).read_all(0, made.since), before)


def test_a_tempo_moves_on_small_parts_of_a_quarter_only() -> None:
    made = clicking(60)
    for turn in range(200):
        made = changed(clicking(60 + turn), made, 1000 + 777 * turn)
        assert made.course.tempos.segments[-1].onset.exact.denominator in {1, 2, 3, 4, 6, 8, 12, 16, 24, 48}
    assert len(made.course.tempos.segments) <= 65


def test_a_new_meter_begins_at_the_next_bar_line() -> None:
    """4/4 at 120, changed in the middle of its second bar to 3/4 at 60: from second 4 on a click a second."""
    made = changed(clicking(60, "3/4"), clicking(120), 3 * RATE_HZ)
    assert made.since == 4 * RATE_HZ
    halves = [beat * RATE_HZ // 2 for beat in range(8)]
    assert onsets(made, 7) == [*halves, 4 * RATE_HZ, 5 * RATE_HZ, 6 * RATE_HZ]
    assert [made.bar_at(made.beats_at(second * RATE_HZ)) for second in (0, 3, 4, 5, 7)] == [
        (1, 1),
        (2, 3),
        (1, 1),
        (1, 2),
        (2, 1),
    ]


def test_a_meter_that_has_not_begun_is_left_out() -> None:
    waiting = changed(clicking(120, "5/4"), clicking(120), 3 * RATE_HZ)
    made = changed(clicking(60, "3/4"), waiting, 3 * RATE_HZ + 100)
    assert made.since == 4 * RATE_HZ
    assert onsets(made, 7)[-3:] == [4 * RATE_HZ, 5 * RATE_HZ, 6 * RATE_HZ]
    assert len(onsets(made, 7)) == 11, "and the eight clicks of the first meter still stand"


def test_the_thousandth_bar_is_where_it_should_be_and_old_ones_are_let_go() -> None:
    bars = Bars(FOUR, ClickPattern("dropped", "", drop=Fraction(1, 2)), 1)
    first = bars.bar(0)
    bars.bar(1000)
    assert len(bars._kept) == BARS_KEPT
    assert bars.bar(0) == first, "drawn anew, the same"
    hour = clicking(60).block(3600 * RATE_HZ, 10)[:, 0]
    assert abs(hour[0]) == np.max(np.abs(hour)) > 0.01


def test_a_click_alone_is_not_taken_up_by_a_drone_or_another_place() -> None:
    other = endless_click(FOUR, EVERY_BEAT, Fraction(60), Mix(channels="stereo"))
    assert other.after(clicking(60), 0) is None


def test_a_player_takes_up_the_tempo_while_it_sounds() -> None:
    room = Room()
    room.ask(RATE_HZ + RATE_HZ // 2, ChangeTo(clicking(120)))
    room.ask(5 * RATE_HZ, Act.STOP)
    ended = room.play(clicking(60))
    wave = np.abs(room.heard[:, 0])
    sounding = np.flatnonzero(wave > 0.01)
    starts = np.append(0, sounding[1:][np.diff(sounding) > RATE_HZ // 50])
    gaps = np.diff(starts)
    # one beat holds the change: shorter than a second, longer than half of one; before and after all are even
    [turn] = np.flatnonzero((gaps > RATE_HZ // 2) & (gaps < RATE_HZ))
    assert np.all(gaps[:turn] == RATE_HZ)
    assert np.all(gaps[turn + 1 :] == RATE_HZ // 2)
    assert ended.at > Beats(4)
