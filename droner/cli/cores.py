"""Say how many cores there are, and how a process for each is begun."""

from __future__ import annotations

import os
import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from multiprocessing.context import ForkContext, SpawnContext

FORKED_ON = frozenset({"linux"})
"""Elsewhere a process cannot be forked, or not safely."""


def cores() -> int:
    """The cores that this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def process_context() -> ForkContext | SpawnContext:
    """What begins a process: a fork where it is safe, a fresh interpreter elsewhere."""
    import multiprocessing  # noqa: PLC0415 - most commands begin no process

    if sys.platform in FORKED_ON:
        return multiprocessing.get_context("fork")
    return multiprocessing.get_context("spawn")
