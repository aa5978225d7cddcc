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
    from tests.sound.live.listening import Listener, listener

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
