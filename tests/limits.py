"""Let the machine refuse what is too long, for a while."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager


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
