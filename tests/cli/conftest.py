"""Give the tests of the command line a folder with a session in it, and the live ones a JACK server."""

from __future__ import annotations

import sys
from collections.abc import Iterator
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


if sys.platform != "win32":
    from tests.midi.live.jack import Ear, jack_server, listeners

    PERIOD = 1024
    """Frames, 21 ms: with short periods a server on a machine full of work loses messages by itself."""

    @pytest.fixture(scope="session")
    def jack(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, str]]:
        """The surroundings in which the server is met."""
        with jack_server(tmp_path_factory.mktemp("jack"), PERIOD) as surroundings:
            yield surroundings

    @pytest.fixture
    def ear(jack: dict[str, str]) -> Iterator[Ear]:
        """An instrument that listens, called ear0."""
        with listeners(1, jack) as ears:
            yield ears[0]
