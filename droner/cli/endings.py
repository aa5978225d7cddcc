"""Say what went wrong in one plain message, and find its exit code.

Rule    whose fault it is decides: the player's files 1, the command line 2, the machine 3, Ctrl-C 130. Anything else
        is a bug of ours, and stays one.
"""

from __future__ import annotations

import click

from droner.cli.screen import tell
from droner.cli.table import counted
from droner.errors import MachineError, MistakesFound

MISTAKE, MACHINE, STOPPED = 1, 3, 130


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
    return f"{found}\n\n{counted(len(found.mistakes), 'mistake')}; nothing was written"


def machine_message(failed: MachineError | OSError) -> str:
    """What the machine would not give."""
    if isinstance(failed, MachineError):
        return str(failed)
    what = f"{failed.filename}: " if failed.filename else ""
    return f"the machine refused: {what}{(failed.strerror or str(failed)).lower()}"
