"""Write files in several processes at once.

Rule    each worker takes the next file until none is left, and tells how far it has come. The parent alone obeys
        signals: it tells the workers to give up between two blocks and waits until their passing files are gone. A
        worker whose parent is gone gives up too. What goes wrong in a worker is raised here.
        Where a process can be forked, the scores are not sent; the number libraries are first loaded in the workers.
"""

from __future__ import annotations

import os
import signal
from contextlib import contextmanager, suppress
from multiprocessing.connection import Connection, wait
from time import monotonic
from typing import TYPE_CHECKING

from droner.cli.cores import process_context
from droner.errors import MachineError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence
    from multiprocessing.process import BaseProcess
    from multiprocessing.queues import SimpleQueue
    from multiprocessing.synchronize import Event

    from droner.cli.jobs import Job

TOLD_EVERY_SECONDS = 0.05
PARENTS_SIGNALS = ("SIGINT", "SIGTERM", "SIGHUP")
PIPE_BYTES = 65_536


class GivenUp(BaseException):
    """Ends the work of a worker between two blocks."""


def write_in_processes(
    jobs: Sequence[Job], workers: int, at: Callable[[int, int], None], finished: Callable[[int], None]
) -> None:
    """Write the jobs in their order, so many at a time; `at` and `finished` are told which and how far."""
    context = process_context()
    stop, todo = context.Event(), context.SimpleQueue()
    for place in [*range(len(jobs)), *[None] * workers]:
        todo.put(place)
    crew: dict[Connection, BaseProcess] = {}
    try:
        for _ in range(workers):
            with _signals_kept_waiting():
                hears, tells = context.Pipe(duplex=False)
                crew[hears] = context.Process(target=_work, args=(jobs, todo, tells, stop), daemon=True)
                crew[hears].start()
                tells.close()
        _hear(crew, at, finished)
    finally:
        stop.set()
        for hears, worker in crew.items():
            _wait_for(worker, hears)


@contextmanager
def _signals_kept_waiting() -> Iterator[None]:
    """Signals come after the block: what Python calls while it forks would swallow one. The new process keeps them."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, [getattr(signal, name) for name in PARENTS_SIGNALS])
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _hear(crew: dict[Connection, BaseProcess], at: Callable[[int, int], None], finished: Callable[[int], None]) -> None:
    """Listen to all workers until each has hung up. The first thing that went wrong is raised."""
    listening = dict(crew)
    while listening:
        for hears in _with_something_to_say(listening):
            try:
                told = hears.recv()
            except EOFError:
                worker = listening.pop(hears)
                worker.join()
                if worker.exitcode:
                    raise MachineError(f"a part of the work was ended from outside ({worker.exitcode})") from None
                continue
            if isinstance(told, BaseException):
                raise told
            place, done = told
            if done is None:
                finished(place)
            else:
                at(place, done)


def _with_something_to_say(listening: Iterable[Connection]) -> list[Connection]:
    ready = wait(list(listening))
    return [hears for hears in listening if hears in ready]


def _wait_for(worker: BaseProcess, hears: Connection) -> None:
    """Let a worker end, taking what it still says, so that it never waits for us."""
    while worker.is_alive():
        with suppress(EOFError, OSError):
            if hears.poll(TOLD_EVERY_SECONDS):
                os.read(hears.fileno(), PIPE_BYTES)  # we may have been stopped in the middle of a message
        worker.join(0)
    hears.close()


def _work(jobs: Sequence[Job], todo: SimpleQueue[int | None], tells: Connection, stop: Event) -> None:
    """A worker: write one file after another."""
    for name in PARENTS_SIGNALS:
        if hasattr(signal, name):
            signal.signal(getattr(signal, name), signal.SIG_IGN)
    with suppress(GivenUp, BrokenPipeError):
        while (place := todo.get()) is not None:
            try:
                jobs[place].write(_teller(place, tells, stop))
                tells.send((place, None))
            except Exception as wrong:  # noqa: BLE001 - raised again by the parent
                tells.send(_sendable(wrong))
                return


def _teller(place: int, tells: Connection, stop: Event) -> Callable[[int], None]:
    """Tells the parent how far a job has come, now and then; raises GivenUp once the work is to stop."""
    last = 0.0

    def told(done: int) -> None:
        nonlocal last
        if stop.is_set():
            raise GivenUp
        if monotonic() - last > TOLD_EVERY_SECONDS:
            last = monotonic()
            try:
                tells.send((place, done))
            except BrokenPipeError:
                raise GivenUp from None

    return told


def _sendable(wrong: Exception) -> Exception:
    """An exception that survives the way to the parent: one of ours, or a note of what and where."""
    if isinstance(wrong, MachineError):
        return wrong
    import traceback  # noqa: PLC0415 - only once something is wrong

    return RuntimeError("".join(traceback.format_exception(wrong)))
