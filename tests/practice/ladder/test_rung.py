"""Lay out each climb by hand and compare.

Referee sequences written out from the names of the climbs; the rows that they name, in the pattern library's own files.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from droner.practice.ladder.climb_table import BY_TEMPO, CLIMBS
from droner.practice.ladder.rung import Rung, rungs
from tests.practice.ladder.history import ladder
from tests.practice.lines import patterns

SIX = {"step_bpm": Fraction(10), "fine_from": Fraction(100)}
"""From 60 in tens."""


def tempos_of(climb: str, target: int) -> list[Fraction]:
    return [rung.bpm for rung in rungs(ladder(60, target, climb=climb, **SIX))]


def test_two_up_one_down() -> None:
    assert tempos_of("two up, one down", 100) == [60, 70, 80, 70, 80, 90, 80, 90, 100]
    assert tempos_of("two up, one down", 80) == [60, 70, 80]
    assert tempos_of("two up, one down", 70) == [60, 70]


def test_terraces() -> None:
    assert tempos_of("terraces", 100) == [60, 70, 80, 90, 100]
    assert tempos_of("terraces", 110) == [60, 70, 80, 90, 100, 80, 90, 100, 110]
    assert tempos_of("terraces", 130) == [60, 70, 80, 90, 100, 80, 90, 100, 110, 120, 100, 110, 120, 130]


def test_runs_of_an_item_and_those_that_end_it() -> None:
    order = ladder(60, 80, runs=(Fraction(80), Fraction(90), Fraction(100)), end_runs=2)
    assert all([*rung.speeds] == [80, 90, 100, 85, 85] for rung in rungs(order))


def test_slow_and_target_in_turn() -> None:
    slow, fast = rungs(ladder(60, 90, climb="slow and target in turn", step_bpm=Fraction(30)))
    assert [slow.bpm, *slow.speeds] == [60, 100, 150]  # 90 is 150 per cent of 60
    assert [fast.bpm, *fast.speeds] == [90, 100, 100]


def test_slow_and_target_in_turn_after_each_run_of_the_item() -> None:
    order = ladder(60, 90, climb="slow and target in turn", step_bpm=Fraction(30), runs=(Fraction(80), Fraction(100)))
    assert [*rungs(order)[0].speeds] == [80, 150, 100, 150]
    ending = ladder(60, 90, climb="slow and target in turn", step_bpm=Fraction(30), end_runs=1)
    assert [*rungs(ending)[0].speeds] == [100, 150, 85]


def test_growing_bursts_end_with_all_of_it() -> None:
    bursts = rungs(ladder(60, 120, climb="growing bursts"))
    assert {rung.bpm for rung in bursts} == {120}
    assert [(rung.step, rung.phrases) for rung in bursts[:2]] == [("1 breath", 1), ("2 breaths", 2)]
    assert [rung.phrases for rung in bursts] == [1, 2, 3, 4, 5, 6, 7, 8, 0]
    assert bursts[-1].step == "all of it"


def test_more_notes_and_fewer_clicks_name_rows_of_the_library() -> None:
    library = patterns()
    notes = [library.rhythms[rung.rhythm] for rung in rungs(ladder(60, 120, climb="more notes a beat"))]
    # a felt beat is a quarter in 4/4 and three eighths in 12/8
    beats = {"4/4": Fraction(1), "12/8": Fraction(3, 2)}
    assert [len(row.lengths) * beats[row.meter] / sum(x.exact for x in row.lengths) for row in notes] == [1, 2, 3, 4]
    clicks = [library.clicks[rung.click] for rung in rungs(ladder(60, 120, climb="fewer clicks"))]
    heard = [Fraction(len(row.beats) or 4, 4) * Fraction(row.bars_on, row.bars_on + row.bars_off) for row in clicks]
    assert heard == [1, Fraction(1, 2), Fraction(1, 4), Fraction(1, 2), Fraction(1, 4)]  # then whole bars are silent


def test_one_cold_run_is_one_run_at_the_target() -> None:
    order = ladder(60, 120, climb="one cold run", runs=(Fraction(80), Fraction(100)), end_runs=2)
    assert rungs(order) == (Rung(Fraction(120)),)


@pytest.mark.parametrize("climb", CLIMBS)
def test_every_climb_has_a_sentence_and_ends_at_its_target(climb: str) -> None:
    climbed = rungs(ladder(60, 120, climb=climb))
    assert CLIMBS[climb].endswith(".")
    assert climbed[-1].bpm == 120
    steps = [rung.step for rung in climbed]
    assert len(set(steps)) == (1 if climb in BY_TEMPO else len(climbed))


def test_an_unknown_climb_is_refused() -> None:
    with pytest.raises(ValueError, match="none of the climbs"):
        rungs(ladder(60, 120, climb="sideways"))
