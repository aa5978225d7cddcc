"""Give the live tests a JACK server, an instrument on it, and a player's folder."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from droner.cli.day import Day, open_day

LADDERED = """title = "Runs"
[rotation]
keys_per_day = 2
[[block]]
drill = "octave scale"
ladder = { from = 60, to = 90, runs = [100, 80, 100] }
"""

if sys.platform == "win32":
    collect_ignore_glob = ["test_*.py"]
    """Windows has no pseudoterminals, and no JACK of ours."""
else:
    from tests.cli.play.foot import Foot
    from tests.cli.play.session import SESSION

    @pytest.fixture
    def foot(jack: dict[str, str]) -> Iterator[Foot]:
        """A pedal, called foot."""
        pedal = Foot(jack)
        yield pedal
        pedal.close()

    @pytest.fixture
    def room(tmp_path: Path) -> Path:
        """A folder with a session of two short items in it."""
        (tmp_path / "practice.toml").write_text(SESSION, encoding="utf-8")
        return tmp_path


@pytest.fixture
def laddered(tmp_path: Path) -> Day:
    """A day of two items, three runs each."""
    file = tmp_path / "practice.toml"
    file.write_text(LADDERED, encoding="utf-8")
    return open_day(file, day=date(2026, 11, 25), logbook=tmp_path / "none", quiet=True)
