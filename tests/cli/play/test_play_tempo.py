"""An item that is played slower or faster keeps its notes, and a mark finds its run.

Referees  the traditional metronome (`metronome_table` names its source); arithmetic: a run of B beats at T a minute
          lasts 60 B / T seconds; the plan's own notes.
"""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from droner.cli.day import Day, open_day
from droner.cli.play_making import Maker, Step, steps
from droner.cli.play_runs import run_at
from droner.cli.play_tempo import at_tempo, on_rung, run_of
from droner.practice.item import Item
from droner.practice.ladder.rung import Rung, rungs
from droner.practice.layout.line import LaidNote
from droner.practice.plan import PlannedItem
from droner.units import Beats

NOTHING: Any = None
"""An output, where nothing is made to sound."""


@pytest.fixture
def built_in(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Day:
    monkeypatch.chdir(tmp_path)
    return open_day(None, day=date(2026, 11, 25), minutes=Fraction(12), logbook=tmp_path / "none", quiet=True)


def notes(item: Item) -> list[LaidNote]:
    """The notes of the first time through; one that is taken again after a breath once."""
    found: list[LaidNote] = []
    for placed in item.performance.repeats[0].phrases:
        for note in placed.phrase.laid:
            if not found or found[-1] is not note:
                found.append(note)
    return found


def test_slower_and_faster_keep_the_notes_also_of_a_part_of_a_drill(built_in: Day) -> None:
    cut = [one.item for one in built_in.plan.items if one.cut_short]
    assert cut, "the built-in day has a part of the slow chromatic"
    for item in (*cut, *(one.item for one in built_in.plan.items[1:4])):
        for bpm in (Fraction(40), Fraction(100)):
            other = at_tempo(item, bpm)
            assert notes(other) == notes(item)
            assert other.bpm == bpm
            assert (other.seconds.exact < item.seconds.exact) == (bpm > item.bpm)


def test_a_step_goes_to_the_next_number_of_the_metronome(built_in: Day) -> None:
    maker = Maker(built_in, NOTHING, guide=None)
    step = next(Step(one) for one in built_in.plan.items if one.item.bpm == 60)
    for clicks, number in ((-1, 58), (-1, 56), (1, 58), (1, 60), (1, 63)):
        assert maker.step_tempo(step, clicks)
        assert maker._item(step).bpm == number


def test_the_metronome_ends_at_40_and_208(built_in: Day) -> None:
    maker = Maker(built_in, NOTHING, guide=None)
    step = Step(built_in.plan.items[0])
    for clicks, end in ((-1, 40), (1, 208)):
        while maker.step_tempo(step, clicks):
            pass
        assert maker._item(step).bpm == end


def test_with_a_climbing_ladder_each_run_is_a_step_of_its_own(laddered: Day) -> None:
    found = list(steps(laddered.plan.items, climb=True))
    assert [step.run for step in found] == [0, 1, 2] * len(laddered.plan.items)
    item = found[0].planned.item
    runs = [run_of(item, number, item) for number in range(3)]
    assert [int(speed) for run in runs for speed in run.speeds] == [100, 80, 100]
    assert sum(run.seconds.exact for run in runs) == item.seconds.exact
    assert [step.run for step in steps(laddered.plan.items, climb=False)] == [None] * len(laddered.plan.items)


def test_another_rung_is_the_item_that_the_plan_would_have_made(laddered: Day) -> None:
    item = laddered.plan.items[0].item
    ladder = item.block.ladder
    assert ladder is not None
    higher = laddered.planner.items.item(
        item.block, laddered.planner.pair(laddered.plan.first_place)[0], item.variant, _higher(item)
    )
    assert on_rung(laddered, item, _higher(item)) is higher


def _higher(item: Item) -> Rung:
    assert item.block.ladder is not None
    return rungs(item.block.ladder)[1]


def test_a_mark_is_for_the_run_whose_first_bar_has_begun(laddered: Day) -> None:
    planned: PlannedItem = laddered.plan.items[0]
    item = planned.item
    first, second, _ = item.performance.repeats
    assert run_at(planned, Beats(0)) is None
    assert run_at(planned, first.phrases[0].onset - Beats(1, 100)) is None
    one, still_one = run_at(planned, first.phrases[0].onset), run_at(planned, second.phrases[0].onset - Beats(1))
    assert one is not None
    assert one == still_one
    assert one.bpm == item.bpm
    slow = run_at(planned, second.phrases[0].onset)
    assert slow is not None
    assert slow.bpm == item.bpm * Fraction(80, 100)
    beats = (item.performance.repeats[2].onset - second.onset).exact / item.meter.beat.exact
    assert float(slow.seconds) == pytest.approx(float(60 * beats / slow.bpm), abs=0.001)
