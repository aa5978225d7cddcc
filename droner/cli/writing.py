"""Write files side by side, and stop cleanly when asked to.

Rule    each file appears whole or not at all; when one fails, or Ctrl-C or SIGTERM comes, the others are given up
        between two blocks and their passing files taken away. What is finished stays. Several files are shared out
        among processes, one a core; a single one is written beside the main thread, so that a signal never falls into
        the middle of an encoder.
        A folder made for files that never came is taken away again.
"""

from __future__ import annotations

import signal
from collections.abc import Container, Iterator, Sequence
from concurrent.futures import FIRST_EXCEPTION, ThreadPoolExecutor, wait
from contextlib import contextmanager, suppress
from threading import Event
from types import FrameType
from typing import TYPE_CHECKING

from droner.cli.cores import cores
from droner.cli.form_table import FORM_OF_SUFFIX
from droner.cli.progress import Progress
from droner.cli.screen import tell
from droner.cli.table import counted
from droner.cli.workers import GivenUp, write_in_processes
from droner.errors import MachineError

if TYPE_CHECKING:
    from pathlib import Path

    from droner.cli.jobs import Job

WORTH_A_PROCESS = 500_000
"""Frames of a file, ten seconds of sound, that are worth a process of their own."""
SIGNALS_ADD = 128
"""A shell's habit: the exit code of a program that a signal ended is 128 more than the signal's number."""


def write_all(jobs: Sequence[Job], *, quiet: bool) -> None:
    """Write every file, several at a time where the machine has the cores, the longest first."""
    longest_first = sorted(jobs, key=lambda job: job.work, reverse=True)
    with Progress(sum(job.work for job in jobs), len(jobs), quiet=quiet) as progress:
        workers = min(cores(), sum(job.work >= WORTH_A_PROCESS for job in jobs))
        if workers > 1:
            names = [job.path.name for job in longest_first]
            write_in_processes(
                longest_first,
                workers,
                lambda place, done: progress.at(names[place], done),
                lambda place: progress.finished(names[place]),
            )
        else:
            _write_beside(longest_first, progress)


def _write_beside(jobs: Sequence[Job], progress: Progress) -> None:
    """Write one file after another, beside the main thread."""
    stop = Event()
    pool = ThreadPoolExecutor(1)
    try:
        written = [pool.submit(_write, job, progress, stop) for job in jobs]
        wait(written, return_when=FIRST_EXCEPTION)
        for one in written:
            if one.done():
                one.result()
    finally:
        stop.set()
        pool.shutdown(cancel_futures=True)


def _write(job: Job, progress: Progress, stop: Event) -> None:
    def told(done: int) -> None:
        if stop.is_set():
            raise GivenUp
        progress.at(job.path.name, done)

    with suppress(GivenUp):
        told(0)
        job.write(told)
        progress.finished(job.path.name)


@contextmanager
def folder_for_files(folder: Path) -> Iterator[None]:
    """The folder, made where it is missing; taken away again, with those above it, if nothing came into it."""
    missing: list[Path] = []
    try:
        missing += _missing(folder)
        yield
    except BaseException:
        for made in missing:
            with suppress(OSError):
                made.rmdir()
        raise


def tell_of_others(folder: Path, written: Container[Path], *, quiet: bool) -> None:
    """Say how many tracks of an earlier plan lie among those just written: a phone would play them too."""
    others = [path for path in folder.iterdir() if path.suffix in FORM_OF_SUFFIX and path not in written]
    if others:
        tell(f"{folder} holds {counted(len(others), 'other track')} from before", quiet=quiet)


def _missing(folder: Path) -> list[Path]:
    """Make the folder; give those that were not there, the innermost first."""
    try:
        if folder.exists() and not folder.is_dir():
            raise MachineError(f"{folder}: there is a file of that name; name a folder")
        missing = [each for each in (folder, *folder.parents) if not each.exists()]
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as refused:
        raise MachineError(f"cannot make the folder {folder}: {_in_words(refused)}") from refused
    return missing


def _in_words(refused: OSError) -> str:
    return (refused.strerror or str(refused)).lower()


@contextmanager
def stoppable() -> Iterator[None]:
    """End the work in order on SIGTERM and SIGHUP too; afterwards every signal has its usual effect at once."""
    ours = [getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name)]
    kept = [each for each in ours if signal.getsignal(each) is signal.SIG_DFL]
    for each in kept:
        signal.signal(each, _end)
    try:
        yield
    finally:
        for each in kept:
            signal.signal(each, signal.SIG_DFL)
        if signal.getsignal(signal.SIGINT) is signal.default_int_handler:
            signal.signal(signal.SIGINT, signal.SIG_DFL)


def _end(number: int, _: FrameType | None) -> None:
    tell("stopped")
    raise SystemExit(SIGNALS_ADD + number)
