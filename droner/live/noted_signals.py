"""Note the signals that would stop the music, and let them act once it is silent. (Shore: touches signals.)

Rule    inside the block no signal raises anything: it is written down, and the music looks at the paper a hundred
        times a second. So none can fall between a note and its record, or into the silencing. At the end of the
        block the first one noted has its usual effect. Ctrl-Z is noted apart: `sleep_now` gives it its effect.
        Signals that are ignored stay ignored (nohup). Outside the main thread nothing can be noted: Python brings
        signals to the main thread only. SIGKILL, a crash of the interpreter and a power cut cannot be noted.
Source  POSIX.1: SIGINT, SIGTERM, SIGHUP, SIGQUIT, SIGTSTP. SIGBREAK is Ctrl-Break on Windows (Python's manual).
"""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

ENDING = ("SIGINT", "SIGTERM", "SIGHUP", "SIGQUIT", "SIGBREAK")
SLEEPING = "SIGTSTP"


class Noted:
    """The paper: which signal asks for the end, and whether one asks to sleep."""

    def __init__(self) -> None:
        self.ending: int | None = None
        self.sleeping = False

    def end(self, number: int, _: FrameType | None) -> None:
        """Write down a signal that ends the music; the first counts."""
        if self.ending is None:
            self.ending = number

    def sleep(self, _: int, __: FrameType | None) -> None:
        """Write down Ctrl-Z."""
        self.sleeping = True

    def sleep_now(self) -> None:
        """Let the process be stopped as usual; comes back when it goes on."""
        self.sleeping = False
        number = getattr(signal, SLEEPING)
        signal.signal(number, signal.SIG_DFL)
        signal.raise_signal(number)
        signal.signal(number, self.sleep)


@contextmanager
def noted_signals() -> Iterator[Noted]:
    """Note signals inside the block; the end of the block obeys."""
    noted = Noted()
    if threading.current_thread() is not threading.main_thread():
        yield noted
        return
    numbers = [getattr(signal, name) for name in (*ENDING, SLEEPING) if hasattr(signal, name)]
    before = {number: signal.getsignal(number) for number in numbers}
    # What is not Python's own (None) could not be put back, and what is ignored stays so.
    heeded = {number: usual for number, usual in before.items() if usual not in (signal.SIG_IGN, None)}
    for number in heeded:
        signal.signal(number, noted.sleep if number == getattr(signal, SLEEPING, None) else noted.end)
    try:
        yield noted
    finally:
        for number, usual in heeded.items():
            signal.signal(number, usual)
        if noted.ending is not None:
            signal.raise_signal(noted.ending)
