"""Take the player's marks, and let the ladder climb on them.

Rule    a mark is for the run that sounds, else for the one before it (see `play_runs`), and is handed to the clerk at
        once. Several marks of one run are several entries: nothing is guessed about which was meant.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.cli.play_runs import run_at

if TYPE_CHECKING:
    from collections.abc import Callable

    from droner.cli.play_board import Board
    from droner.cli.play_clerk import Clerk
    from droner.cli.play_runs import Run
    from droner.practice.plan import PlannedItem
    from droner.units import Beats

NOTHING_YET = "nothing was played yet that could be marked"
LISTENED = "this time through is only listened to"
CLEAN, NOT_YET = "clean", "not yet"


class Marks:
    """What can be marked now. `told` is called once a mark is on the disk, with the run that it is for."""

    def __init__(self, board: Board, clerk: Clerk, told: Callable[[Run], None] | None = None) -> None:
        self._board, self._clerk, self._told = board, clerk, told
        self._sounds: PlannedItem | None = None
        self._before: Run | None = None

    def begins(self, planned: PlannedItem | None) -> None:
        """An item begins; None: something that cannot be marked."""
        self._sounds = planned

    def leaves(self, at: Beats) -> None:
        """What sounded is left, at this place."""
        self._before = self._run(at)
        self._sounds = None

    def mark(self, at: Beats, *, clean: bool) -> None:
        """Mark the run."""
        run = self._run(at)
        if run is None or run.only_listened:
            self._board.remark = LISTENED if run else NOTHING_YET
            return
        words = f"{run.words}: {CLEAN if clean else NOT_YET}"

        def written(well: bool) -> None:  # noqa: FBT001 - went well or not
            self._board.mark = words if well else ""
            self._board.remark = "" if well else f"not written down: {words}"
            if well and self._told:
                self._told(run)

        self._clerk.write(run, written, clean=clean)

    def _run(self, at: Beats) -> Run | None:
        return (run_at(self._sounds, at) if self._sounds else None) or self._before
