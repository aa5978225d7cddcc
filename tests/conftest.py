"""Keep every test away from the player's own logbook, and from that of another test."""

from __future__ import annotations

from itertools import count
from pathlib import Path

import pytest

TESTS = count()


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
