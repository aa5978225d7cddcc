"""A player for every test."""

from __future__ import annotations

import pytest

from tests.sound.live.room import Room


@pytest.fixture
def room() -> Room:
    return Room()
