"""Find the outside programs that judge the outputs.

Rule    a test that needs a program asks `need("ffprobe")`. Where it is missing the test is skipped with the
        reason, unless DRONER_REQUIRE_PARTS is set (the build machine sets it): then the test fails.
"""

from __future__ import annotations

import os
import shutil

import pytest


def need(program: str) -> str:
    """The full path of an outside program; else the test is skipped, or fails where every part is required."""
    found = shutil.which(program)
    if found:
        return found
    reason = f"the outside program {program} is not on this machine"
    if os.environ.get("DRONER_REQUIRE_PARTS"):
        pytest.fail(f"{reason}, and DRONER_REQUIRE_PARTS asks for it", pytrace=False)
    pytest.skip(reason)
