"""Say how loud a track is as a whole, from the weighted power of what sounds in it.

Rule    a track is a number of stretches, each with a steady power or one that swings; what overlaps adds up. Their
        energy is gathered in cells of 100 ms. Loudness is the mean power of the blocks of four cells, one beginning
        with every cell, that pass two gates: one at -70 LUFS, and one 10 LU below the mean of those that pass that.
        A track shorter than a block has no loudness by the standard; here it is taken for one block of its own length,
        so that it is as loud as it would be if it were played again and again.
Units   frames; powers are weighted mean squares at full scale 1, summed over the channels; loudness in LUFS.
Source  ITU-R BS.1770-4 and -5, Annex 1 (blocks of 400 ms, overlap of 75 %, gates, -0.691).
"""

from __future__ import annotations

from array import array
from collections.abc import Callable, Iterator, Sequence

import numpy as np

from droner.sound.voice import Amounts, Counts

OFFSET_LU = -0.691
ABSOLUTE_GATE_LUFS = -70.0
RELATIVE_GATE_LU = -10.0
CELLS_A_SECOND = 10
CELLS_A_BLOCK = 4
SILENT_LUFS = float("-inf")
ROWS_GATHERED = 4096
SWINGS_GATHERED = 512
"""Stretches are brought to the cells so many at a time; the memory does not grow with their number."""

CELLS_AT_ONCE = 8192
"""A drone may last for hours."""

POINTS_A_CELL = 8
"""How often a power that changes is looked at: no swing of 5 Hz gets through a sixteenth of a turn between."""

LEAST_TURN = 1e-20
"""Stands for no turn at all where something is divided by it."""

Swing = tuple[float, float, float]
"""A power that goes as a cosine: how often a second, its height, the turns at frame 0."""


class Energy:
    """The energy of a track of so many frames, cell by cell."""

    def __init__(self, frames: int, rate_hz: int) -> None:
        self.rate_hz = rate_hz
        cell, cells = rate_hz / CELLS_A_SECOND, int(frames * CELLS_A_SECOND // rate_hz)
        if cells < CELLS_A_BLOCK:
            cell, cells = frames / CELLS_A_BLOCK, CELLS_A_BLOCK
        self._edges: Amounts = np.arange(cells + 1, dtype=np.float64) * cell
        self._cells: Amounts = np.zeros(cells)
        self._rows, self._swings = array("d"), array("d")

    def add(self, first: float, last: float, power: float) -> None:
        """A stretch of steady power; it may take some away."""
        self._rows.extend((first, last, power))
        if len(self._rows) >= 3 * ROWS_GATHERED:
            self._gather()

    def add_all(self, firsts: Counts, lasts: Counts, powers: Amounts) -> None:
        """Many stretches of steady power."""
        for some in range(0, len(powers), ROWS_GATHERED):
            part = slice(some, some + ROWS_GATHERED)
            self._rows.frombytes(np.stack((firsts[part], lasts[part], powers[part]), axis=1).tobytes())
            self._gather()

    def add_swings(self, first: float, last: float, swings: Sequence[Swing]) -> None:
        """A stretch of power that swings in several ways at once."""
        for often, height, turns in swings:
            self._swings.extend((first, last, often, height, turns))
        if len(self._swings) >= 5 * SWINGS_GATHERED:
            self._gather_swings()

    def add_changing(self, first: float, last: float, power: Callable[[Amounts], Amounts]) -> None:
        """A stretch whose power is known at every frame: it is looked at in the middle of equal parts of a cell."""
        for cells, edges in self._cut(first, last):
            lengths = np.diff(edges)
            points = edges[:-1, None] + lengths[:, None] * ((np.arange(POINTS_A_CELL) + 0.5) / POINTS_A_CELL)
            self._cells[cells] += power(points.reshape(-1)).reshape(points.shape).mean(axis=1) * lengths

    def _cut(self, first: float, last: float) -> Iterator[tuple[slice, Amounts]]:
        """The cells that a stretch lies in, not too many at once, and their edges, the outermost at its own ends."""
        begins, ends = self._edges.searchsorted(first, "right"), self._edges.searchsorted(last, "right")
        edges = self._edges[begins - 1 : ends + 1].clip(first, last)
        for some in range(0, len(edges) - 1, CELLS_AT_ONCE):
            part = edges[some : some + CELLS_AT_ONCE + 1]
            cell = int(begins) - 1 + some
            yield slice(cell, cell + len(part) - 1), part

    def lufs(self) -> float:
        """The loudness; -inf where nothing passes the gates."""
        return gated_lufs(self.blocks())

    def blocks(self) -> Amounts:
        """The mean power of every block, in order."""
        self._gather()
        self._gather_swings()
        until = np.concatenate((np.zeros(1), np.cumsum(self._cells)))
        powers: Amounts = (until[CELLS_A_BLOCK:] - until[:-CELLS_A_BLOCK]) / (self._edges[CELLS_A_BLOCK] or 1.0)
        return powers

    def _gather(self) -> None:
        """Bring the stretches to the cells: power is a stair, its sum up to an edge a broken line."""
        rows = np.array(self._rows, dtype=np.float64).reshape(-1, 3)
        self._rows = array("d")
        if not len(rows):
            return
        moments = np.concatenate((rows[:, 0], rows[:, 1]))
        order = np.argsort(moments, kind="stable")
        moments, power = moments[order], np.cumsum(np.concatenate((rows[:, 2], -rows[:, 2]))[order])
        until = np.concatenate((np.zeros(1), np.cumsum(power[:-1] * np.diff(moments))))
        self._cells += np.diff(np.interp(self._edges, moments, until))

    def _gather_swings(self) -> None:
        """Bring the swings to the cells: the mean of a cosine from edge to edge, not too many cells at once."""
        rows = np.array(self._swings, dtype=np.float64).reshape(-1, 5)
        self._swings = array("d")
        if not len(rows):
            return
        begins, ends = (self._edges.searchsorted(rows[:, side], "right") - 1 for side in (0, 1))
        until = np.concatenate((np.zeros(1, dtype=np.int64), np.cumsum(ends + 1 - begins)))
        for some in range(0, int(until[-1]), CELLS_AT_ONCE):
            pieces = np.arange(some, min(some + CELLS_AT_ONCE, until[-1]))
            of = until.searchsorted(pieces, "right") - 1
            self._add_pieces(begins[of] + pieces - until[of], *rows[of].T)

    def _add_pieces(
        self, cells: Counts, first: Amounts, last: Amounts, often: Amounts, height: Amounts, turns: Amounts
    ) -> None:
        """What each swing gives to one cell, or to the part of it in which it sounds; none beyond the last edge."""
        inside = cells < len(self._cells)
        begin = np.maximum(self._edges[cells], first)
        end = np.where(inside, np.minimum(self._edges[np.minimum(cells + 1, len(self._cells))], last), begin)
        before, after = (often * edge / self.rate_hz + turns for edge in (begin, end))
        wide = np.pi * (after - before)
        wide[wide == 0] = LEAST_TURN
        given = height * np.cos(np.pi * (before + after)) * (np.sin(wide) / wide) * (end - begin)
        self._cells += np.bincount(cells[inside], given[inside], minlength=len(self._cells))


def gated_lufs(powers: Amounts, gate_moved_lu: float = 0.0) -> float:
    """The loudness of blocks of these powers, -inf where none passes; the relative gate may be moved to try it."""
    loud = powers[_lufs(powers) > ABSOLUTE_GATE_LUFS]
    if not len(loud):
        return SILENT_LUFS
    gate = float(_lufs(loud.mean())) + RELATIVE_GATE_LU + gate_moved_lu
    return float(_lufs(loud[_lufs(loud) > gate].mean()))


def _lufs(powers: Amounts) -> Amounts:
    lufs: Amounts = OFFSET_LU + 10 * np.log10(np.maximum(powers, np.finfo(np.float64).tiny))
    return lufs
