"""One JACK server for all tests of a process; a player on a clock of our own for each."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.midi.live.jack import jack_server
from tests.midi.live.room import Room


@pytest.fixture(scope="session")
def jack(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, str]]:
    """The surroundings in which the server is met, set in this process too."""
    with jack_server(tmp_path_factory.mktemp("jack")) as surroundings, pytest.MonkeyPatch.context() as patched:
        for name, value in surroundings.items():
            patched.setenv(name, value)
        yield surroundings


@pytest.fixture
def room() -> Room:
    return Room()
