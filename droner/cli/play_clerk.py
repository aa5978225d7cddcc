"""Write marks down while the music plays. (Shore: one thread, which has the logbook.)

Rule    a mark is on the disk as soon as the disk has it, and never waits for the end of the day. The music never waits
        for the disk. What cannot be written down is told at once, and again at the end. A run that is played once is
        counted once: another mark of it corrects the one before.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from enum import Enum
from typing import TYPE_CHECKING

from droner.cli.logbook import make_folder
from droner.cli.play_work import Worker
from droner.errors import MachineError, MistakesFound

if TYPE_CHECKING:
    from droner.cli.day import Day
    from droner.cli.play_runs import Run
    from droner.practice.logbook.entry import Entry

SECONDS_A_MINUTE = 60
SOON_S = 0.5


class Outcome(Enum):
    """What became of a mark: written down; in place of another one; it stood there already; or it could not be."""

    WRITTEN = "written"
    CORRECTED = "corrected"
    STANDS = "stands"
    FAILED = "failed"


Then = Callable[[Outcome], None]


class Clerk:
    """Has the logbook of the day; `written` are the entries that are on the disk."""

    def __init__(self, day: Day) -> None:
        self.written: list[Entry] = []
        self.failure: MachineError | MistakesFound | None = None
        self._day = day
        self._kept: dict[Hashable, Entry] = {}
        self._worker = Worker("clerk")

    def sit_down(self) -> None:
        """Have everything ready, so that the first mark takes no longer than the others."""
        self._worker.submit(_load)

    def write(self, run: Run, playing: Hashable, then: Then, *, clean: bool) -> None:
        """Write down whether a run was clean, and tell what became of it. `playing`: which playing of which run."""
        self._worker.submit(self._write, run, playing, then, clean)

    def close(self, waits: Callable[[], None]) -> None:
        """Write down what is still to be written; `waits` is told if that is not done at once."""
        if not self._worker.finish(SOON_S):
            waits()
            self._worker.finish()

    def _write(self, run: Run, playing: Hashable, then: Then, clean: bool) -> None:  # noqa: FBT001 - handed on
        from droner.practice.logbook.store import open_logbook  # noqa: PLC0415 - loaded beside the music

        old = self._kept.get(playing)
        if old and old.clean == clean:
            then(Outcome.STANDS)
            return
        entry = _entry(run, self._day, old.name if old else "", clean=clean)
        try:
            make_folder(self._day.logbook.parent)
            with open_logbook(self._day.logbook, create=True) as logbook:
                logbook.append([entry])
        except (MachineError, MistakesFound) as failure:
            self.failure = failure
            then(Outcome.FAILED)
        else:
            self._keep(entry, old, playing)
            then(Outcome.CORRECTED if old else Outcome.WRITTEN)

    def _keep(self, entry: Entry, old: Entry | None, playing: Hashable) -> None:
        self._kept[playing] = entry
        if old:
            self.written[self.written.index(old)] = entry
        else:
            self.written.append(entry)


def _entry(run: Run, day: Day, corrects: str, *, clean: bool) -> Entry:
    from droner.cli.logging_day import Told, entry_of  # noqa: PLC0415 - loaded beside the music
    from droner.practice.logbook.entry import BY_PEDAL  # noqa: PLC0415 - as above

    told = Told(int(clean), 1, run.bpm, run.seconds / SECONDS_A_MINUTE, judged=BY_PEDAL)
    return entry_of(run.planned, day, told, corrects)


def _load() -> None:
    import droner.cli.logging_day  # noqa: PLC0415 - only that they are loaded
    import droner.practice.logbook.store  # noqa: F401, PLC0415 - as above
