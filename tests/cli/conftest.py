"""Give the tests of the command line a folder with a session in it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.climber import SESSION
from tests.cli.programs import SHORT_SESSION


@pytest.fixture
def room(tmp_path: Path) -> Path:
    """A player's folder with a practice.toml that makes little work."""
    (tmp_path / "practice.toml").write_text(SHORT_SESSION, encoding="utf-8")
    return tmp_path


@pytest.fixture
def stand(tmp_path: Path) -> Path:
    """The folder of a player on one ladder."""
    (tmp_path / "practice.toml").write_text(SESSION, encoding="utf-8")
    return tmp_path
