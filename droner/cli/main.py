"""Run the command `droner`, and end plainly whatever happens.

Rule    a failure ends in one plain message and its exit code; a bug of ours is a traceback and is never caught.
        Ctrl-C is heeded from the first moment on, so even click is loaded inside.
Exit    0 done, 1 a mistake in the player's files, 2 wrong usage, 3 a device or file the machine would not give,
        130 stopped by Ctrl-C, 143 ended by another program (SIGTERM), 129 by closing the terminal (SIGHUP).
"""

from __future__ import annotations

import gc
import os
import sys

COLLECT_AFTER = 1_000_000
"""So many objects more than were let go, before Python looks for circles among them: a command loads much, drops little
of it, and ends soon. Looking each 700 objects, as usual, took a tenth of a short command."""

ONE_THREAD = ("OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "OMP_NUM_THREADS")
"""Products of matrices on one core, unless the player's surroundings say otherwise: shared out among cores they are
added up in another order, and a track would differ by the machine's cores. Other files take the other cores."""


def main() -> None:
    """Run the command line."""
    for name in ONE_THREAD:
        os.environ.setdefault(name, "1")
    gc.set_threshold(COLLECT_AFTER)
    try:
        from droner.cli.group import cli  # noqa: PLC0415 - loading takes longest, and may be stopped too

        code = cli.main(prog_name="droner", standalone_mode=False)
    except KeyboardInterrupt:
        print("stopped", file=sys.stderr)
        sys.exit(130)
    except Exception as failed:
        from droner.cli.endings import ending  # noqa: PLC0415 - only when something went wrong

        code = ending(failed)
        if code is None:
            raise
    gc.freeze()  # nor does Python look for circles while it ends: after a lifetime's logbook that took 0.04 s
    sys.exit(code if isinstance(code, int) else 0)
