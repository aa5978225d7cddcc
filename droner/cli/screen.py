"""Show data on stdout and tell messages on stderr.

Rule    data are what was asked for; messages are everything else, and --quiet leaves out those that are no mistake.
        Text that the terminal cannot write is shown with what it has; the names of files are given back as they came.
        When the reader has gone (`droner today | head -1`) the program ends without a word.
Units   widths in cells of a terminal.
"""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import Any

NARROWEST, WIDEST = 60, 100


def show(text: str) -> None:
    """Print data."""
    _print(sys.stdout, text)


def show_json(data: Any) -> None:
    """Print data for programs: JSON, whole and in plain ASCII."""
    import json  # noqa: PLC0415 - most runs are read by people

    show(json.dumps(data, indent=2, allow_nan=False))


def tell(message: str, *, quiet: bool = False) -> None:
    """Say something beside the data, once no thread keeps stderr quiet. A terminal that has gone away stops nothing."""
    if not quiet:
        from droner.live.quiet_stderr import heard_stderr  # noqa: PLC0415 - only when there is something to say

        with heard_stderr(), suppress(OSError):
            _print(sys.stderr, message)


def page_width() -> int:
    """How wide a page may be: the terminal's width, within reason."""
    import shutil  # noqa: PLC0415 - only for what is laid out

    return max(NARROWEST, min(shutil.get_terminal_size((WIDEST, 0)).columns, WIDEST))


@contextmanager
def plain_endings() -> Iterator[None]:
    """End without a word when the reader has gone; with one when Ctrl-C stops the work."""
    try:
        yield
    except KeyboardInterrupt:
        watched = sys.stderr is not None and sys.stderr.isatty()
        tell("\rstopped" if watched else "stopped")  # over the ^C that the terminal shows
        raise SystemExit(130) from None
    except BrokenPipeError:
        _let_go_of_stdout()
        raise SystemExit(0) from None
    except OSError:
        _let_go_of_stdout()
        raise


def _print(stream: Any, text: str) -> None:
    if stream is None:
        return
    if isinstance(stream, io.TextIOWrapper):
        _never_fail_on_a_letter(stream)
    stream.write(f"{text}\n")
    stream.flush()


def _never_fail_on_a_letter(stream: io.TextIOWrapper) -> None:
    errors = "surrogateescape" if stream.encoding.lower().replace("-", "") == "utf8" else "backslashreplace"
    stream.reconfigure(errors=errors)


def _let_go_of_stdout() -> None:
    """What is left unwritten goes nowhere; else the interpreter would try again when it ends, and complain."""
    with suppress(OSError, ValueError, AttributeError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)
