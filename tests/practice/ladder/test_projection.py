"""Let players practise to their target, and see how often the range that was promised half-way held.

Referee simulated players; the exact binomial bounds around the promised 90 of 100; Student's t from scipy.
"""

from __future__ import annotations

from datetime import date, timedelta
from random import Random
from statistics import median

import pytest
from scipy.stats import binom, t

from droner.practice.ladder.fold import climbed
from droner.practice.ladder.projection import Projection, projected
from droner.practice.ladder.standing import standing
from droner.practice.ladder.state import Run, Why
from droner.practice.ladder.student_table import T_95
from tests.practice.ladder.history import MONDAY, day, history, ladder, play

ORDER = ladder(60, 126)
PLAYERS = 200
PROMISED = 0.90
ONE_IN_A_THOUSAND = 0.001
"""How seldom a true 90 of 100 may look worse than this by chance."""
USEFUL_WIDTH = 4.0
"""A range is of use while it is no wider than four times the way that was left."""


def promised(runs: list[Run], today: date) -> Projection:
    climb = climbed(ORDER, runs)
    return projected(ORDER, climb, standing(ORDER, climb, today), today)


def test_the_table_of_student_s_t() -> None:
    for freedom, point in T_95.items():
        assert point == pytest.approx(t.ppf(0.95, freedom), abs=0.0005)  # three decimals


def test_a_player_who_never_misses_arrives_on_the_day_that_was_said() -> None:
    # twenty rungs, one a day from day 0: clean at the target on day 19
    runs = play(ORDER, range(10), {60: 3})
    found = promised(runs, day(9))
    assert found.day == day(19)
    assert found.earliest == day(19)  # a rung a day was the fastest seen
    assert found.latest is not None
    assert found.latest > day(19)
    assert found.why == ""


def test_too_early() -> None:
    # eight times from new ground to new ground need nine days of it
    assert promised([], day(0)).why == "too early to say"
    assert promised(play(ORDER, range(8), {60: 3}), day(7)).why == "too early to say"
    assert promised(play(ORDER, range(9), {60: 3}), day(8)).day is not None
    at_once = [(0, bpm, 3, 3) for bpm in (60, 63, 66, 69, 72, 76, 80, 84, 88, 92, 96)]
    assert promised([*history(*at_once)], day(0)).why == "too early to say"  # one day says nothing of days


def test_not_at_this_pace() -> None:
    stuck = play(ORDER, range(30), {60: 3, 104: 0})
    assert promised(stuck, day(30)).why == "not at this pace"
    # ten rungs in ten days, then only slow ones: nothing new for three days is more than twice the longest way, a day
    climbing = play(ORDER, range(10), {60: 3})
    slow = history(*((since, 60, 3, 3) for since in range(10, 13)))
    assert promised([*climbing, *slow[:2]], day(11)).day is not None
    assert promised([*climbing, *slow], day(12)).why == "not at this pace"


def test_on_the_way_back_and_there() -> None:
    away = play(ORDER, range(12), {60: 3})
    assert promised(away, day(30)).why == "too early to say, on the way back"
    assert promised(play(ORDER, range(25), {60: 3}), day(25)).why == "at its target"
    fallen = [*play(ORDER, range(25), {60: 3}), Run(day(25), ORDER.to_bpm, "", 0, 3)]
    assert promised(fallen, day(25)).why == "too early to say, on the way back"


def practised(order_seed: int, clean_run: float, days_off: float) -> list[Run]:
    """One player up to the target: three runs a day, each clean by chance; some days off, two in a row at most."""
    chance, today, off, runs = Random(order_seed), MONDAY, 0, list[Run]()
    while not (climb := climbed(ORDER, runs)).moves or climb.moves[-1].why is not Why.REACHED:
        if off < 2 and chance.random() < days_off:
            off += 1
        else:
            off = 0
            clean = sum(chance.random() < clean_run for _ in range(3))
            runs.append(Run(today, standing(ORDER, climb, today).rung.bpm, "", clean, 3))
        today += timedelta(1)
    return runs


@pytest.mark.parametrize(("clean_run", "days_off"), [(0.97, 0.0), (0.9, 0.15), (0.85, 0.3)])
def test_about_ninety_of_a_hundred_arrive_inside_the_range(clean_run: float, days_off: float) -> None:
    held, widths = [], []
    for seed in range(PLAYERS):
        runs = practised(seed, clean_run, days_off)
        arrival = runs[-1].day
        half_way = next(move.day for move in climbed(ORDER, runs).moves if move.from_place == 12)
        found = promised([run for run in runs if run.day <= half_way], half_way)
        if found.earliest is None or found.latest is None:
            continue
        held.append(found.earliest <= arrival <= found.latest)
        widths.append((found.latest - found.earliest) / (arrival - half_way))
    assert len(held) > 0.8 * PLAYERS
    assert sum(held) >= binom.ppf(ONE_IN_A_THOUSAND, len(held), PROMISED)
    assert median(widths) <= USEFUL_WIDTH
