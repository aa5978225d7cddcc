"""Send away what C libraries say on stderr while they are tried. (Shore: touches the process's stderr.)

Rule    one thread at a time, for it is the process's only stderr. What Python says meanwhile is lost too; who has
        something to say waits with `heard_stderr`.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from threading import RLock

_STDERR = RLock()


@contextmanager
def heard_stderr() -> Iterator[None]:
    """No other thread sends stderr away inside the block."""
    with _STDERR:
        yield


@contextmanager
def quiet_stderr() -> Iterator[None]:
    """Nothing comes to stderr inside the block."""
    with _STDERR:
        if sys.stderr is not None:
            sys.stderr.flush()
        try:
            kept = os.dup(2)
        except OSError:  # there is no stderr at all
            yield
            return
        nowhere = os.open(os.devnull, os.O_WRONLY)
        try:
            os.dup2(nowhere, 2)
            yield
        finally:
            os.dup2(kept, 2)
            os.close(kept)
            os.close(nowhere)
