"""Give the tests of live drones and clicks a JACK server, an instrument and a loudspeaker on it, and a keyboard."""

from __future__ import annotations

import sys
from collections.abc import Iterator

import pytest

if sys.platform == "win32":
    collect_ignore_glob = ["test_*.py"]
    """Windows has no pseudoterminals, and no JACK of ours."""
else:
    from tests.cli.play.foot import Foot
    from tests.midi.live.jack import Ear, jack_server, listeners
    from tests.sound.live.listening import Listener, listener

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

    @pytest.fixture
    def phone(jack: dict[str, str]) -> Iterator[Listener]:
        """A loudspeaker that keeps every sample, called phone."""
        with listener("phone", jack) as found:
            yield found

    @pytest.fixture
    def keyboard(jack: dict[str, str]) -> Iterator[Foot]:
        """A MIDI keyboard, called foot."""
        held = Foot(jack)
        yield held
        held.close()
