"""Write marks down while the music plays. (Shore: one thread, which has the logbook.)

Rule    a mark is on the disk as soon as the disk has it, and never waits for the end of the day. The music never waits
        for the disk. What cannot be written down is told at once, and again at the end.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from droner.cli.logbook import make_folder
from droner.cli.play_work import Worker
from droner.errors import MachineError, MistakesFound

if TYPE_CHECKING:
    from droner.cli.day import Day
    from droner.cli.play_runs import Run
    from droner.practice.logbook.entry import Entry

SECONDS_A_MINUTE = 60


class Clerk:
    """Has the logbook of the day; `written` are the entries that are on the disk."""

    def __init__(self, day: Day) -> None:
        self.written: list[Entry] = []
        self.failure: MachineError | MistakesFound | None = None
        self._day = day
        self._worker = Worker("clerk")

    def sit_down(self) -> None:
        """Have everything ready, so that the first mark takes no longer than the others."""
        self._worker.submit(_load)

    def write(self, run: Run, then: Callable[[bool], None], *, clean: bool) -> None:
        """Write down whether a run was clean, and tell whether that went well."""
        self._worker.submit(self._write, run, then, clean)

    def close(self) -> None:
        """Write down what is still to be written."""
        self._worker.finish()

    def _write(self, run: Run, then: Callable[[bool], None], clean: bool) -> None:  # noqa: FBT001 - handed on
        from droner.practice.logbook.store import open_logbook  # noqa: PLC0415 - loaded beside the music

        entry = _entry(run, self._day, clean=clean)
        try:
            make_folder(self._day.logbook.parent)
            with open_logbook(self._day.logbook, create=True) as logbook:
                logbook.append([entry])
        except (MachineError, MistakesFound) as failure:
            self.failure = failure
            then(False)  # noqa: FBT003 - went well or not
        else:
            self.written.append(entry)
            then(True)  # noqa: FBT003 - as above


def _entry(run: Run, day: Day, *, clean: bool) -> Entry:
    from droner.cli.logging_day import Told, entry_of  # noqa: PLC0415 - loaded beside the music
    from droner.practice.logbook.entry import BY_PEDAL  # noqa: PLC0415 - as above

    told = Told(int(clean), 1, run.bpm, run.seconds / SECONDS_A_MINUTE, judged=BY_PEDAL)
    return entry_of(run.planned, day, told)


def _load() -> None:
    import droner.cli.logging_day  # noqa: PLC0415 - only that they are loaded
    import droner.practice.logbook.store  # noqa: F401, PLC0415 - as above
