"""What must hold for every history: the laws of the ladder, tried on invented ones.

Referee the laws themselves: a pure fold, never outside its ends, a clean day never makes a later day slower.
"""

from __future__ import annotations

import subprocess
import sys
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from droner.practice.ladder.climb_table import BY_TEMPO, CLIMBS
from droner.practice.ladder.fold import climbed
from droner.practice.ladder.rung import rungs
from droner.practice.ladder.standing import standing
from droner.practice.ladder.state import Run
from droner.practice.session import LadderOrder
from tests.practice.ladder.history import day, ladder, stands

CLIMB_NAMES = tuple(CLIMBS)
RESTARTS = st.lists(
    st.tuples(st.integers(1, 30), st.integers(10, 100).map(Fraction)), max_size=4, unique_by=lambda row: row[0]
).map(tuple)


@st.composite
def orders(draw: st.DrawFn, climbs: tuple[str, ...] = CLIMB_NAMES) -> LadderOrder:
    """Ladders of every climb, with every number of the player's own."""
    slow = draw(st.integers(30, 120))
    return ladder(
        slow,
        slow + draw(st.integers(0, 80)),
        climb=draw(st.sampled_from(climbs)),
        step_bpm=draw(st.sampled_from([None, Fraction(5)])),
        up_after=draw(st.integers(1, 4)),
        clean_share=Fraction(draw(st.integers(0, 100))),
        down_after=draw(st.integers(1, 3)),
        down_by=draw(st.integers(0, 3)),
        restart=draw(RESTARTS),
        plateau_days=draw(st.integers(1, 4)),
    )


@st.composite
def histories(draw: st.DrawFn, order: LadderOrder) -> list[Run]:
    """Entries at the ladder's own rungs and beside them, on days near one another and far apart."""
    climb, since, runs = rungs(order), 0, []
    for _ in range(draw(st.integers(0, 25))):
        since += draw(st.sampled_from([0, 0, 0, 1, 1, 1, 2, 3, 4, 11, 40]))
        rung = draw(st.sampled_from(climb))
        bpm = rung.bpm + draw(st.sampled_from([0, 0, 0, 0, 1, -7]))
        total = draw(st.integers(1, 6))
        runs.append(Run(day(since), bpm, rung.step, draw(st.sampled_from([total, total, 0, total // 2])), total))
    return runs


@settings(deadline=None, max_examples=300)
@given(st.data())
def test_a_clean_day_never_makes_a_later_day_slower(data: st.DataObject) -> None:
    order = data.draw(orders())
    runs = data.draw(histories(order))
    last = runs[-1].day if runs else day(0)
    today = last + timedelta(data.draw(st.integers(0, 60)))
    later = today + timedelta(data.draw(st.integers(0, 60)))
    rung = stands(order, runs, today).rung
    clean = data.draw(st.integers(1, 6))
    before = stands(order, runs, later)
    after = stands(order, [*runs, Run(today, rung.bpm, rung.step, clean, clean)], later)
    assert after.place >= before.place
    if order.climb in {"straight", "slow and target in turn"}:  # the others go back to slower tempos by themselves
        assert after.rung.bpm >= before.rung.bpm


@settings(deadline=None, max_examples=200)
@given(st.data())
def test_it_never_leaves_the_ends_of_its_ladder(data: st.DataObject) -> None:
    order = data.draw(orders())
    runs = data.draw(histories(order))
    climb = climbed(order, runs)
    for since in range(-3, 60, 7):
        found = standing(order, climb, day(since))
        assert order.from_bpm <= found.rung.bpm <= order.to_bpm
        assert 0 <= found.place < found.of
    for move in climb.moves:
        assert 0 <= min(move.from_place, move.to_place) <= max(move.from_place, move.to_place) < len(rungs(order))


@settings(deadline=None, max_examples=100)
@given(st.data())
def test_moves_lead_from_one_place_to_the_next_up_to_where_it_stands(data: st.DataObject) -> None:
    order = data.draw(orders())
    runs = data.draw(histories(order))
    climb = climbed(order, runs)
    place = 0
    for move in climb.moves:
        assert move.from_place == place
        place = move.to_place
    assert place == climb.state.place
    assert climb.state.place <= climb.state.held or climb.state.place == 0


@settings(deadline=None, max_examples=100)
@given(st.data())
def test_the_same_days_later_in_time_lead_to_the_same_place(data: st.DataObject) -> None:
    order = data.draw(orders(tuple(BY_TEMPO)))
    runs = data.draw(histories(order))
    moved = timedelta(data.draw(st.integers(-4000, 4000)))
    shifted = [Run(run.day + moved, run.bpm, run.step, run.clean, run.total) for run in runs]
    today = day(80)
    assert stands(order, runs, today).place == stands(order, shifted, today + moved).place


PROGRAM = """
import sys
from tests.practice.ladder.test_laws import told
print(told())
"""


def told() -> str:
    """A long history told in full: every climb's state, moves and words."""
    lines = []
    for climb in CLIMBS:
        order = ladder(60, 126, climb=climb)
        steps = rungs(order)
        runs = [
            Run(day(since // 2), steps[since % len(steps)].bpm, steps[since % len(steps)].step, since % 3, 3)
            for since in range(200)
        ]
        lines.append(f"{climbed(order, runs)} {standing(order, climbed(order, runs), date(2025, 6, 1))}")
    return "\n".join(lines)


def test_the_same_history_is_told_the_same_in_any_process() -> None:
    root = Path(__file__).resolve().parents[3]
    found = {
        subprocess.run(
            [sys.executable, "-c", PROGRAM],
            capture_output=True,
            text=True,
            check=True,
            cwd=root,
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": str(root)},
        ).stdout
        for seed in ("0", "1", "4711")
    }
    assert found == {told() + "\n"}
