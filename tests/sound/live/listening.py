"""Start listeners at a JACK server of our own, and read what they heard.

Source  JACK 2 with its dummy driver, through the package JACK-Client. A period that the server itself loses is told by
        it (xrun), and comes out as silence or as nothing at the listener.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from droner.sound.voice import Samples
from tests.midi.live.jack import ENDS_WITHIN_S, FIRST, REPOSITORY

PERIOD_FRAMES = 256


def need_library(name: str) -> None:
    """A library of Python that plays or listens; else the test is skipped, or fails where every part is required."""
    if find_spec(name) is not None:
        return
    reason = f"the library {name} is not installed"
    if os.environ.get("DRONER_REQUIRE_PARTS"):
        pytest.fail(reason, pytrace=False)
    pytest.skip(reason)


class Listener:
    """An ear in a process of its own."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        self._process = process

    def ask(self, line: str) -> Any:
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        print(line, file=self._process.stdin, flush=True)
        return json.loads(self._process.stdout.readline())

    def heard(self, folder: Path) -> Samples:
        """All that it heard, from the first sample that is not zero."""
        self.ask(f"save {folder / 'heard.npy'}")
        made: Samples = np.load(folder / "heard.npy")
        return made


@contextmanager
def listener(name: str, surroundings: dict[str, str], channels: int = 2, seconds: int = 30) -> Iterator[Listener]:
    """An ear called so, with so many ports."""
    need_library("jack")
    need_library("sounddevice")
    with subprocess.Popen(
        [*FIRST, sys.executable, "-m", "tests.sound.live.ear", name, str(channels), str(seconds)],
        cwd=REPOSITORY,
        env=os.environ | surroundings,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    ) as process:
        assert process.stdout is not None
        while (line := process.stdout.readline()) != "ready\n":
            assert line, "the ear does not come up"
        try:
            yield Listener(process)
        finally:
            _end(process)


def _end(process: subprocess.Popen[str]) -> None:
    assert process.stdin is not None
    process.stdin.close()
    try:
        process.wait(ENDS_WITHIN_S)
    except subprocess.TimeoutExpired:  # JACK's library waits for ever for a server that died in the middle of a period
        process.kill()


def slips(heard: Samples, expected: Samples, same: float, period: int = PERIOD_FRAMES) -> int:
    """In how many places periods are missing or silent in what was heard of what was expected, both from one frame on.

    Every other period must be the same; AssertionError where one is not, or where not all was heard.
    """
    found, at, place = 0, 0, 0
    while place < len(expected):
        wanted = expected[place : place + period]  # the last may be shorter
        came = heard[at : at + len(wanted)]
        if len(came) == len(wanted) and np.max(np.abs(came - wanted)) < same:
            at, place = at + period, place + period
            continue
        found += 1
        at, place = _next_that_fits(heard, expected, (at, place), same, period)
    return found


def _next_that_fits(
    heard: Samples, expected: Samples, at: tuple[int, int], same: float, period: int
) -> tuple[int, int]:
    """Where both run on together after a lost period or some: the nearest such place."""
    for lost in range(1, 64):
        for silent in range(lost + 1):
            there, place = at[0] + silent * period, at[1] + (lost - silent) * period
            wanted = expected[place : place + period]
            came = heard[there : there + len(wanted)]
            if not len(wanted) or (len(came) == len(wanted) and np.max(np.abs(came - wanted)) < same):
                return there, place
    raise AssertionError(f"what was heard from frame {at[0]} on is not what was made from {at[1]} on")
