"""A logbook that is there already."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from droner.practice.logbook.store import open_logbook
from tests.practice.logbook.written import entry


@pytest.fixture
def three_entries(tmp_path: Path) -> Iterator[Path]:
    """A logbook of three entries in a folder of its own."""
    folder = tmp_path / "folder"
    folder.mkdir()
    with open_logbook(folder / "droner.logbook", create=True) as logbook:
        logbook.append(map(entry, range(3)))
    yield folder / "droner.logbook"
    folder.chmod(0o700)
