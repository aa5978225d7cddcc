"""Put a file in its place whole, or not at all. (Shore: touches the disk.)

Rule    a file is written beside its place under a passing name of its own, drawn by chance, and renamed when it is
        complete; whatever goes wrong, also the player's Ctrl-C, the passing file is taken away and what stood
        there before stays. Of two who write one file at once, the last to finish has it, whole. A link is followed.
        A pipe is waited for until somebody reads from it. It, or a device, is sent the bytes of the file once all
        are there: an encoder may go back to the head of its file, and what fails or is stopped sends nothing.
        What the machine refuses becomes a `MachineError` that names the file.
        Killed outright (SIGKILL, a power cut), droner leaves its passing file behind. No later run clears it away,
        since it cannot tell whether another is still writing it: a `.part` that does not grow may be deleted.
        The disk is not told to hurry: a track lost in a power cut is made again.
Units   bytes; seconds.
Source  POSIX.1, open: a pipe opened with O_NONBLOCK that nobody reads gives ENXIO; write: a pipe that can be
        written takes PIPE_BUF bytes at once.
"""

from __future__ import annotations

import errno
import os
import select
import stat
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from io import FileIO
from pathlib import Path
from secrets import token_hex
from tempfile import TemporaryFile
from typing import BinaryIO

from droner.errors import MachineError

PASSING_NAME_BYTES = 8
"""Of chance: as many names as make it certain that no two writers draw the same."""
LOOKED_AGAIN_SECONDS = 0.05
SENT_AT_ONCE = getattr(select, "PIPE_BUF", 512)
"""512 is the least that POSIX allows; systems without the name have no pipes in folders."""


def _always_wanted() -> None:
    pass


@contextmanager
def whole_file(path: Path, still_wanted: Callable[[], None] = _always_wanted) -> Iterator[BinaryIO]:
    """A file to write and read, which stands at `path` once the block has ended well.

    `still_wanted` is called while a pipe lets us wait, and may raise to give up.
    """
    try:
        kind = _kind(path)
        if stat.S_ISDIR(kind):
            raise MachineError(f"{path} cannot be written: there is a folder of that name")
        on_disk = not kind or stat.S_ISREG(kind)
        with _beside(Path(os.path.realpath(path))) if on_disk else _sent_to(path, still_wanted) as file:
            yield file
    except OSError as why:
        raise MachineError(f"{path} cannot be written: {_in_words(why)}") from why


def _kind(path: Path) -> int:
    """What stands there, its links followed, as `stat` tells it; 0 for nothing."""
    try:
        return path.stat().st_mode
    except FileNotFoundError:
        return 0


@contextmanager
def _beside(goal: Path) -> Iterator[BinaryIO]:
    """A passing file beside its goal, which becomes the goal, or nothing. "x": nobody else's is ever opened."""
    part = goal.with_name(f".{token_hex(PASSING_NAME_BYTES)}.part")
    try:
        with part.open("x+b") as file:
            yield file
        os.replace(part, goal)  # noqa: PTH105 - one step that also works over an older file everywhere
    except BaseException:
        with suppress(OSError):
            part.unlink(missing_ok=True)
        raise


@contextmanager
def _sent_to(path: Path, still_wanted: Callable[[], None]) -> Iterator[BinaryIO]:
    """A file without a name, whose bytes go to a pipe or device when it is whole."""
    with _opened(path, still_wanted) as goal, TemporaryFile() as file:
        yield file
        file.seek(0)
        while piece := file.read(SENT_AT_ONCE):
            _wait_for_room(goal, still_wanted)
            while piece:
                piece = piece[goal.write(piece) :]


def _opened(path: Path, still_wanted: Callable[[], None]) -> FileIO:
    """The device, or the pipe once somebody reads from it. A plain `open` of a pipe could not be given up."""
    while path.is_fifo():
        pipe = _pipe_that_is_read(path)
        if pipe is not None:
            return pipe
        still_wanted()
        time.sleep(LOOKED_AGAIN_SECONDS)
    return path.open("wb", buffering=0)


def _pipe_that_is_read(path: Path) -> FileIO | None:
    """The pipe, open; None while nobody reads from it."""
    try:
        number = os.open(path, os.O_WRONLY | os.O_NONBLOCK)
    except OSError as why:
        if why.errno == errno.ENXIO:
            return None
        raise
    os.set_blocking(number, True)
    return FileIO(number, "wb")


def _wait_for_room(goal: FileIO, still_wanted: Callable[[], None]) -> None:
    """Wait until a pipe takes more; a device is never waited for."""
    if not stat.S_ISFIFO(os.fstat(goal.fileno()).st_mode):
        return
    while not select.select([], [goal], [], LOOKED_AGAIN_SECONDS)[1]:
        still_wanted()


def _in_words(why: OSError) -> str:
    if why.errno == errno.ELOOP:
        return "its links lead round in a circle"
    return (why.strerror or str(why)).lower()
