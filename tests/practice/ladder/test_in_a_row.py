"""What an entry's numbers prove: tried in every order in which its runs can have been played.

Referee brute force: a row is proved if there is one in each order of the runs within the entries, and otherwise not.
"""

from __future__ import annotations

from itertools import combinations, groupby, product

from hypothesis import given
from hypothesis import strategies as st

from droner.practice.ladder.fold import climbed
from droner.practice.ladder.state import Why
from tests.practice.ladder.history import history, ladder

Entry = tuple[int, int]
"""Clean runs and all runs."""
ENTRIES = st.lists(
    st.integers(1, 5).flatmap(lambda total: st.tuples(st.integers(0, total), st.just(total))), min_size=1, max_size=4
)
ASKED = st.integers(1, 5)
NEVER = 1000


def orders(entry: Entry) -> list[tuple[bool, ...]]:
    """Every order of one entry's runs: whether each was clean."""
    clean, total = entry
    return [tuple(run in chosen for run in range(total)) for chosen in combinations(range(total), clean)]


def longest(runs: list[bool], kind: bool) -> int:  # noqa: FBT001 - clean or missed is what is asked
    return max((len([*row]) for value, row in groupby(runs) if value == kind), default=0)


def proved(entries: list[Entry], kind: bool) -> int:  # noqa: FBT001 - as above
    """The longest row that stands in every order."""
    return min(longest([run for entry in played for run in entry], kind) for played in product(*map(orders, entries)))


@given(ENTRIES, ASKED)
def test_a_row_of_clean_runs_leads_up_as_soon_as_it_is_proved(entries: list[Entry], asked: int) -> None:
    order = ladder(60, 126, up_after=asked, clean_share=0, down_after=NEVER)
    moves = climbed(order, history(*((0, 60, *entry) for entry in entries))).moves
    first = next((n for n in range(1, len(entries) + 1) if proved(entries[:n], kind=True) >= asked), None)
    assert bool(moves) == (first is not None)
    if first is not None:
        assert climbed(order, history(*((0, 60, *entry) for entry in entries[:first]))).moves
        assert not climbed(order, history(*((0, 60, *entry) for entry in entries[: first - 1]))).moves


@given(ENTRIES, ASKED)
def test_a_row_of_misses_leads_down_as_soon_as_it_is_proved(entries: list[Entry], asked: int) -> None:
    begun = ladder(60, 126, up_after=1, down_after=asked)
    up = [(0, 60, 1, 1), (0, 63, 1, 1), (0, 66, 1, 1)]
    missing = [(1, 60, *entry) for entry in entries]  # slower than the rung: clean ones do not lead up
    downs = [move for move in climbed(begun, history(*up, *missing)).moves if move.why is Why.DOWN]
    assert bool(downs) == (proved(entries, kind=False) >= asked)
