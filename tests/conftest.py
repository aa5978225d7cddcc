"""Keep every test away from the player's own logbook, and from that of another test; share the tests out.

Rule    tests that listen in real time come first, all in one process: servers of JACK share one register of few names,
        and were seen to disturb one another. They mostly wait, so a process more than the cores is begun. All others
        make way for them, and go by file, so that what a file has made ready is made once.
"""

from __future__ import annotations

import os
from itertools import count
from pathlib import Path

import pytest
from xdist.remote import Producer
from xdist.scheduler import LoadScopeScheduling

TESTS = count()
HERE = Path(__file__).parent
IN_REAL_TIME = frozenset({"midi/live", "sound/live", "cli/play", "cli/standing"})
CLOCKS_OF_THEIR_OWN = frozenset({"midi/live/test_player.py", "midi/live/test_endless.py", "cli/play/test_play_page.py"})
MAKES_WAY = 10
"""POSIX, nice: so many steps behind."""


def pytest_xdist_auto_num_workers() -> int:
    """One more than the cores."""
    return 1 + (len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1)


class Together(LoadScopeScheduling):  # type: ignore[misc] # of a library without types
    """Hands out what goes together in one piece."""

    def _split_scope(self, nodeid: str) -> str:
        file, _, _ = nodeid.partition("::")
        return "in real time" if _is_in_real_time(self.config.rootpath / file) else file


def pytest_xdist_make_scheduler(config: pytest.Config, log: Producer) -> Together:
    """In place of xdist's own."""
    return Together(config, log)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Those in real time first."""
    items.sort(key=lambda item: _is_in_real_time(item.path), reverse=True)


def pytest_runtest_setup(item: pytest.Item) -> None:
    """From its first other test on a process makes way."""
    if not _is_in_real_time(item.path) and hasattr(os, "nice") and os.nice(0) < MAKES_WAY:
        os.nice(MAKES_WAY)


def _is_in_real_time(file: Path) -> bool:
    name = file.relative_to(HERE) if file.is_relative_to(HERE) else file
    return name.parent.as_posix() in IN_REAL_TIME and name.as_posix() not in CLOCKS_OF_THEIR_OWN


@pytest.fixture(scope="session")
def shelf(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder for the logbooks of all tests of a worker."""
    return tmp_path_factory.mktemp("logbooks")


@pytest.fixture(autouse=True)
def own_logbook(shelf: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Where the programs of a test find and keep their logbook; it is not there yet."""
    file = shelf / f"{next(TESTS)}.logbook"
    monkeypatch.setenv("DRONER_LOGBOOK", str(file))
    return file
