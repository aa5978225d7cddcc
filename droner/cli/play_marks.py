"""Take the player's marks, and let the ladder climb on them.

Rule    a mark is for the run that sounds, else for the one before it (see `play_runs`), and is handed to the clerk at
        once. A run that is played once is marked once: the last mark of it holds.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from droner.cli.play_clerk import Outcome
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
OUTCOMES = {Outcome.WRITTEN: "", Outcome.CORRECTED: ", corrected", Outcome.STANDS: ", once"}
NEWS = frozenset({Outcome.WRITTEN, Outcome.CORRECTED})


@dataclass(frozen=True, slots=True)
class _Playing:
    """A run, and which time an item began it was."""

    run: Run
    begun: int


class Marks:
    """What can be marked now. `told` is called once a mark is on the disk, with the run that it is for."""

    def __init__(self, board: Board, clerk: Clerk, told: Callable[[Run], None] | None = None) -> None:
        self._board, self._clerk, self._told = board, clerk, told
        self._sounds: PlannedItem | None = None
        self._before: _Playing | None = None
        self._begun = 0

    def begins(self, planned: PlannedItem | None) -> None:
        """An item begins; None: something that cannot be marked."""
        self._sounds = planned
        self._begun += 1

    def leaves(self, at: Beats) -> None:
        """What sounded is left, at this place."""
        self._before = self._playing(at)
        self._sounds = None

    def mark(self, at: Beats, *, clean: bool) -> None:
        """Mark the run."""
        playing = self._playing(at)
        if playing is None or playing.run.only_listened:
            self._board.remark = LISTENED if playing else NOTHING_YET
            return
        run, words = playing.run, f"{playing.run.words}: {CLEAN if clean else NOT_YET}"

        def written(outcome: Outcome) -> None:
            is_kept = outcome is not Outcome.FAILED
            self._board.mark = words + OUTCOMES[outcome] if is_kept else ""
            self._board.remark = "" if is_kept else f"not written down: {words}"
            if outcome in NEWS and self._told:
                self._told(run)

        self._clerk.write(run, (playing.begun, run.number), written, clean=clean)

    def _playing(self, at: Beats) -> _Playing | None:
        run = run_at(self._sounds, at) if self._sounds else None
        return _Playing(run, self._begun) if run else self._before
