"""Put a file in its place whole, or not at all. (Shore: touches the disk.)

Rule    a file is written beside its place under a passing name, and renamed when it is complete; whatever
        goes wrong, also the player's Ctrl-C, the passing file is taken away and what stood there before
        stays. A link is followed; a device or a pipe takes the bytes as they come.
        What the machine refuses becomes a `MachineError` that names the file.
        The disk is not told to hurry: a track lost in a power cut is made again.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import BinaryIO

from droner.errors import MachineError


@contextmanager
def whole_file(path: Path) -> Iterator[BinaryIO]:
    """A file to write into, which stands at `path` once the block has ended well."""
    if path.is_dir():
        raise MachineError(f"{path} cannot be written: there is a folder of that name")
    try:
        with _special(path) if _is_special(path) else _beside(path.resolve()) as file:
            yield file
    except OSError as why:
        raise MachineError(f"{path} cannot be written: {_in_words(why)}") from why


def _is_special(path: Path) -> bool:
    return path.exists() and not path.is_file()


def _special(path: Path) -> BinaryIO:
    return path.open("wb")


@contextmanager
def _beside(goal: Path) -> Iterator[BinaryIO]:
    """A passing file beside its goal, which becomes the goal, or nothing."""
    part = goal.with_name(f".{goal.name}.part")
    try:
        with part.open("w+b") as file:
            yield file
        os.replace(part, goal)  # noqa: PTH105 - one step that also works over an older file everywhere
    except BaseException:
        with suppress(OSError):
            part.unlink(missing_ok=True)
        raise


def _in_words(why: OSError) -> str:
    return (why.strerror or str(why)).lower()
