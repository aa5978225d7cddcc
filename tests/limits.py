"""Let the machine refuse: what is too long, for a while; or what root alone may do.

Source  prctl(2), capabilities(7), and the numbers in their headers: a right dropped so is gone once a program starts.
"""

from __future__ import annotations

import ctypes
import os
from collections.abc import Iterator
from contextlib import contextmanager

PR_CAPBSET_DROP, CAP_DAC_OVERRIDE, CAP_DAC_READ_SEARCH = 24, 1, 2


@contextmanager
def files_no_longer_than(size: int) -> Iterator[None]:
    """The machine refuses longer files, as a full disk would in the middle of one."""
    import resource  # not on every system

    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


def without_roots_rights() -> None:
    """Root may read and write everywhere: give that up. Any other user has no such right."""
    if os.getuid() == 0:
        for right in (CAP_DAC_OVERRIDE, CAP_DAC_READ_SEARCH):
            ctypes.CDLL(None).prctl(PR_CAPBSET_DROP, right, 0, 0, 0)
