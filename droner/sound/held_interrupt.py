"""Keep the player's Ctrl-C until it can be obeyed. (Shore: touches the process's signals.)

Rule    while an encoder works, the first Python code that runs is nearly always its call to write bytes, inside
        C code through which no exception can pass: an interrupt that arrives then would be lost. So it is
        kept, and obeyed between blocks. Outside the main thread nothing is done: interrupts never come there.
"""

from __future__ import annotations

import signal
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType


@contextmanager
def held_interrupt() -> Iterator[Callable[[], None]]:
    """Keep interrupts inside the block. Call what it gives to obey one; the end of the block obeys too."""
    usual = signal.getsignal(signal.SIGINT)
    if threading.current_thread() is not threading.main_thread() or not callable(usual):
        yield lambda: None
        return
    kept: list[tuple[int, FrameType | None]] = []

    def obey() -> None:
        if kept:
            usual(*kept.pop())

    signal.signal(signal.SIGINT, lambda number, frame: kept.append((number, frame)))
    try:
        yield obey
    finally:
        signal.signal(signal.SIGINT, usual)
        obey()
