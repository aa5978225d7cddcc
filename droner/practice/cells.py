"""Play the cells of a strain along its runs.

Rule    the way down mirrors the way up: the same cells in reverse order, each read backwards. A cell that would
        leave its bounds is left out. In a line without lengths of its own, a cell that only repeats the one
        before it backwards at a turn is left out too, so that no note is struck twice in the stream.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from droner.practice.pattern import Order
from droner.practice.travel import Run, places, standing

if TYPE_CHECKING:
    from droner.practice.pattern import Strain
    from droner.practice.stairs import Stairs


@dataclass(frozen=True, slots=True)
class PlacedCell:
    """One cell on the stairs: the stair it stands on and the stairs it plays, in order."""

    place: int
    stairs: tuple[int, ...]
    which: int
    falling: bool
    turns: bool


def offsets(count: tuple[int, ...]) -> tuple[int, ...]:
    """Stairs from the note itself for counts as players say them: 1 is 0, 3 is 2, -3 is -2."""
    return tuple(step - 1 if step > 0 else step + 1 for step in count)


def placed_cells(strain: Strain, runs: tuple[Run, ...], stairs: Stairs, *, reach_out: bool) -> list[PlacedCell]:
    """Every cell of the strain along the runs. `reach_out`: cells stand in the run and may reach beyond it."""
    cells: list[PlacedCell] = []
    for run in runs:
        for cell in _along(strain, run, stairs, reach_out=reach_out):
            if cells and not strain.lengths and cells[-1].stairs == cell.stairs[::-1] and cell.turns:
                continue
            cells.append(cell)
    return cells


def _along(strain: Strain, run: Run, stairs: Stairs, *, reach_out: bool) -> Iterator[PlacedCell]:
    shapes = [offsets(cell) for cell in strain.cells]
    low, high = _bounds(run, stairs, reach_out=reach_out)
    walked = standing(run) if reach_out else places(run, *_common_reach(shapes), strain.stride)
    turn = True
    for turned, place in enumerate(walked):
        for which in range(len(shapes))[:: -1 if run.falling else 1]:
            played = tuple(place + step for step in shapes[which])
            if not low <= min(played) <= max(played) <= high:
                continue
            backwards = run.falling ^ _reversed(strain.order, turned)
            yield PlacedCell(place, played[::-1] if backwards else played, which, run.falling, turn)
            turn = False


def _bounds(run: Run, stairs: Stairs, *, reach_out: bool) -> tuple[int, int]:
    if reach_out:
        return 0, stairs.top
    return min(run.start, run.stop), max(run.start, run.stop)


def _common_reach(shapes: list[tuple[int, ...]]) -> tuple[int, int]:
    """The least reach down and up that any cell of the strain needs."""
    return max(min(shape) for shape in shapes), min(max(shape) for shape in shapes)


def _reversed(order: Order, turned: int) -> bool:
    return order is Order.REVERSED or (order is Order.ALTERNATING and turned % 2 == 1)
