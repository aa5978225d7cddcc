"""Give each written dynamic its MIDI velocity.

Rule    one row a dynamic, soft to loud. No standard maps dynamics to decibels.
Units   MIDI velocity 1..127.
Source  the ladder of a common notation-program table (values as in the `gm` package of R, rdrr.io).
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

VELOCITIES: Mapping[str, int] = MappingProxyType(
    {
        "ppp": 16,
        "pp": 33,
        "p": 49,
        "mp": 64,
        "mf": 80,
        "f": 96,
        "ff": 112,
        "fff": 126,
    }
)
"""Velocity by dynamic mark, soft to loud."""
