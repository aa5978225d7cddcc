"""Play the cells of a strain along its runs.

Rule    the way down mirrors the way up: the same cells in reverse order, each read backwards; alternating cells go on
        alternating. A cell that would leave its bounds is left out; where strides end short of a run's end, one last
        shorter cell plays what is left. In a line without lengths of its own the cell on which the path turns is
        played once, so that no note is struck twice in the stream.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from droner.practice.drill import Order
from droner.practice.layout.travel import Run, places, standing

if TYPE_CHECKING:
    from droner.practice.drill import Strain
    from droner.practice.layout.stairs import Stairs


@dataclass(frozen=True, slots=True)
class PlacedCell:
    """One cell on the stairs: the stair it stands on and the stairs it plays, in order.

    A cell that leaves its own note out may stand where there is no stair, below 0 or above the top.
    `turns`: its first note is one where the path changes direction.
    """

    place: int
    stairs: tuple[int, ...]
    which: int
    run: Run
    turns: bool = False


def offsets(count: tuple[int, ...]) -> tuple[int, ...]:
    """Stairs from the note itself for counts as players say them: 1 is 0, 3 is 2, -3 is -2."""
    return tuple(step - 1 if step > 0 else step + 1 for step in count)


def placed_cells(strain: Strain, runs: tuple[Run, ...], stairs: Stairs, *, reach_out: bool) -> list[PlacedCell]:
    """Every cell of the strain along the runs. `reach_out`: cells stand in the run and may reach beyond it."""
    cells: list[PlacedCell] = []
    for run in runs:
        walked = len({(cell.run, cell.place) for cell in cells})
        coming = list(_along(strain, run, stairs, walked, reach_out=reach_out))
        if cells and coming:
            cells, coming = _joined(cells, coming, streams=not strain.lengths)
        cells += coming
    return cells


def _joined(
    cells: list[PlacedCell], coming: list[PlacedCell], *, streams: bool
) -> tuple[list[PlacedCell], list[PlacedCell]]:
    """The cells on both sides of a join of two runs: its turn marked, and nothing struck twice in a stream."""
    last, first = cells[-1], coming[0]
    turns = last.run.falling != first.run.falling
    if streams and (last.place, last.which) == (first.place, first.which):
        if len(last.stairs) == 1:
            return [*cells[:-1], replace(last, turns=turns)], coming[1:]
        return cells, [replace(cell, turns=turns and place == 0) for place, cell in enumerate(coming[1:])]
    if streams and turns and last.stairs[-1] == first.stairs[0]:
        shorter = [replace(last, stairs=last.stairs[:-1])] if len(last.stairs) > 1 else []
        cells = [*cells[:-1], *shorter]
    return cells, [replace(first, turns=turns), *coming[1:]]


def _along(strain: Strain, run: Run, stairs: Stairs, walked: int, *, reach_out: bool) -> Iterator[PlacedCell]:
    """The cells of one run. `walked`: on how many stairs cells were played before it."""
    shapes = [offsets(cell) for cell in strain.cells]
    low, high = (0, stairs.top) if reach_out else sorted((run.start, run.stop))
    stands = standing(run) if reach_out else places(run, *_common_reach(shapes), strain.stride)
    goes_on = 1 if walked and not strain.lengths else 0
    for number, place in enumerate(stands, walked - goes_on):
        for which in range(len(shapes))[:: -1 if run.falling else 1]:
            played = tuple(place + step for step in shapes[which])
            if low <= min(played) <= max(played) <= high:
                yield _cell(strain.order, run, place, played, which, number)
    if strain.stride > 1:
        yield from _rest(strain, run, stands, shapes[0], walked - goes_on + len(stands))


def _cell(order: Order, run: Run, place: int, played: tuple[int, ...], which: int, number: int) -> PlacedCell:
    backwards = number % 2 == 1 if order is Order.ALTERNATING else run.falling ^ (order is Order.REVERSED)
    return PlacedCell(place, played[::-1] if backwards else played, which, run)


def _rest(strain: Strain, run: Run, stands: list[int], shape: tuple[int, ...], number: int) -> Iterator[PlacedCell]:
    """What a last cell still plays of its shape where strides end short of the end of the run."""
    near, far = (max(shape), min(shape)) if run.falling else (min(shape), max(shape))
    reached = stands[-1] + far if stands else run.start
    if reached == run.stop:
        return
    stride = -strain.stride if run.falling else strain.stride
    place = stands[-1] + stride if stands else run.start - near
    low, high = sorted((run.start, run.stop))
    played = tuple(stair for stair in (place + step for step in shape) if low <= stair <= high)
    if run.stop not in played:
        place, played = run.stop, (run.stop,)
    yield _cell(strain.order, run, place, played, 0, number)


def _common_reach(shapes: list[tuple[int, ...]]) -> tuple[int, int]:
    """The least reach down and up that any cell of the strain needs."""
    return max(min(shape) for shape in shapes), min(max(shape) for shape in shapes)
