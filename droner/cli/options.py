"""The options that several commands share, each written once.

Rule    names are the same everywhere; what an option overrides in the session is said in its help. What completes
        a value for the shell is loaded only when a shell asks.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from importlib import import_module
from typing import Any, TypeVar

import click

from droner.cli.values import day, number, path, whole

Decorated = TypeVar("Decorated", bound=Callable[..., Any])

USUAL_SESSION = "practice.toml"
"""What a command reads, and `new` writes, when no file is named."""
LARGEST_PLACE = 10**12
LARGEST_SEED = 2**32 - 1
"""As in a session."""


def completing(kind: str) -> Callable[[click.Context, click.Parameter, str], list[Any]]:
    """What completes values of a kind: a function of `completion`."""

    def complete(ctx: click.Context, parameter: click.Parameter, incomplete: str) -> list[Any]:
        found: list[Any] = getattr(import_module("droner.cli.completion"), kind)(ctx, parameter, incomplete)
        return found

    return complete


def today() -> date:
    """The player's own today. The only clock of the program."""
    return datetime.now().astimezone().date()


def session_argument(command: Decorated) -> Decorated:
    """The session file: practice.toml here, else droner's own."""
    return click.argument(
        "session", required=False, type=path, metavar="[SESSION]", shell_complete=completing("files")
    )(command)


def sessions_argument(command: Decorated) -> Decorated:
    """One session file, several, or a folder of them."""
    return click.argument("sessions", nargs=-1, type=path, metavar="[SESSION]...", shell_complete=completing("files"))(
        command
    )


def logbook_option(command: Decorated) -> Decorated:
    """The logbook, instead of the one that is found."""
    return click.option(
        "--logbook",
        type=path,
        metavar="FILE",
        help="The logbook. Default: beside the session if it says so, else DRONER_LOGBOOK, else in your data folder.",
        shell_complete=completing("files"),
    )(command)


def day_options(command: Decorated) -> Decorated:
    """What a day depends on besides the session."""
    for option in reversed(
        (
            click.option("--date", "day", type=day, metavar="YYYY-MM-DD", help="The day to plan. Default: today."),
            click.option(
                "--place", type=whole(0, LARGEST_PLACE), metavar="N", help="Take the rotation from this place (from 0)."
            ),
            click.option("--minutes", type=number(5, 240), metavar="N", help="Minutes there are today, 5 to 240."),
            click.option(
                "--seed",
                type=whole(0, LARGEST_SEED),
                metavar="N",
                help="Seed of what chance decides: clicks, blind returns.",
            ),
            logbook_option,
        )
    ):
        command = option(command)
    return command


def tuning_options(command: Decorated) -> Decorated:
    """A4 and temperament, over what the session says."""
    a4 = click.option("--a4", "a4_hz", type=number(380, 480), metavar="HZ", help="A4 in hertz, 380 to 480.")
    temperament = click.option(
        "--temperament",
        metavar="NAME",
        help="just, equal, pythagorean, meantone, ...",
        shell_complete=completing("temperaments"),
    )
    return a4(temperament(command))


def json_option(command: Decorated) -> Decorated:
    """Data for programs instead of a page."""
    return click.option("--json", "as_json", is_flag=True, help="Print JSON.")(command)


def quiet_option(command: Decorated) -> Decorated:
    """No messages but mistakes."""
    return click.option("--quiet", "-q", is_flag=True, help="No progress and no remarks.")(command)


def no_remarks(command: Decorated) -> Decorated:
    """--quiet for a command that has no remarks to make: so that a script may always give it."""
    return click.option("--quiet", "-q", is_flag=True, expose_value=False, help="No remarks.")(command)
