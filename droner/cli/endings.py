"""Say what went wrong in one plain message, and find its exit code.

Rule    whose fault it is decides: the player's files 1, the command line 2, the machine 3, Ctrl-C 130. Anything else
        is a bug of ours, and stays one. What became of the rest of the work is said as it is: nothing was written,
        unless those who found the mistakes know better.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from droner.cli.screen import tell
from droner.cli.table import counted
from droner.errors import MachineError, MistakesFound

if TYPE_CHECKING:
    from collections.abc import Iterable

    from droner.errors import Mistake

MISTAKE, MACHINE, STOPPED = 1, 3, 130


NOTHING_WRITTEN = "nothing was written"


class MistakesToTell(MistakesFound):
    """Mistakes, and what became of the work besides; "" where none was asked for but to look for them.

    `count`: how many there are, where not all of them are told.
    """

    def __init__(self, mistakes: Iterable[Mistake], besides: str = "", count: int | None = None) -> None:
        super().__init__(mistakes)
        self.besides = besides
        self.count = len(self.mistakes) if count is None else count


def ending(failed: Exception) -> int | None:
    """The exit code of a failure, once its message is shown; None for a bug of ours."""
    if isinstance(failed, click.ClickException):
        tell(usage_message(failed))
        return failed.exit_code
    if isinstance(failed, MistakesFound):
        tell(mistakes_message(failed))
        return MISTAKE
    if isinstance(failed, (MachineError, OSError)):
        tell(machine_message(failed))
        return MACHINE
    if isinstance(failed, click.Abort):
        tell("stopped")
        return STOPPED
    return None


def usage_message(wrong: click.ClickException) -> str:
    """What is wrong on the command line, and where help is."""
    asked = wrong.ctx.command_path if isinstance(wrong, click.UsageError) and wrong.ctx else "droner"
    return f"{wrong.format_message()}\nHelp: {asked} --help"


def mistakes_message(found: MistakesFound) -> str:
    """Every mistake, and how many there are."""
    told = found if isinstance(found, MistakesToTell) else MistakesToTell(found.mistakes, NOTHING_WRITTEN)
    return f"{found}\n\n" + "; ".join(filter(None, (counted(told.count, "mistake"), told.besides)))


def machine_message(failed: MachineError | OSError) -> str:
    """What the machine would not give."""
    if isinstance(failed, MachineError):
        return str(failed)
    what = f"{failed.filename}: " if failed.filename else ""
    return f"the machine refused: {what}{(failed.strerror or str(failed)).lower()}"
