"""The outside referee for spelling: music21 (BSD), imported once, its import-time warnings apart."""

from __future__ import annotations

import warnings
from types import ModuleType

import pytest


@pytest.fixture(scope="session")
def music21() -> ModuleType:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # its imports of numpy and matplotlib helpers are not our business
        import music21 as referee
    return referee
