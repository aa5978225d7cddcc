"""The options of a drone or a click that sounds now, and what does not go together.

Rule    without an output a file is written, as ever; with one there is no file. `--speaker D3` takes D3 for a name, as
        every option does; where something is then missing, that is said.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

import click

from droner.cli.values import number

Decorated = TypeVar("Decorated", bound=Callable[..., Any])
USUAL_SECONDS = 60
LIVE = ("speaker", "port", "own_port")
NAMED = (("speaker", "a loudspeaker"), ("port", "a MIDI port"))


def live_options(command: Decorated) -> Decorated:
    """Where it sounds now."""
    for option in (
        click.option("--own-port", is_flag=True, help="Now, on a MIDI port called droner, for others to connect to."),
        click.option("--port", metavar="NAME", help="Now, on this MIDI port; a part of its name will do."),
        click.option(
            "--speaker",
            is_flag=False,
            flag_value="",
            default=None,
            metavar="[NAME]",
            help="Now, through the loudspeaker: this one, or the usual one.",
        ),
    ):
        command = option(command)
    return command


def seconds_option(command: Decorated) -> Decorated:
    """How long."""
    return click.option(
        "--seconds",
        type=number(1, 7200),
        metavar="S",
        help="How long, 1 to 7200. Default: a file of 60; now, until you end it.",
    )(command)


def is_live(options: dict[str, Any]) -> bool:
    """Whether it is to sound now. UsageError for several outputs, or one and a file."""
    outputs = [
        name
        for name, is_asked in (
            ("--speaker", options["speaker"] is not None),
            ("--port", options["port"] is not None),
            ("--own-port", options["own_port"]),
            ("--out", options["out"] is not None),
        )
        if is_asked
    ]
    if len(outputs) > 1:
        raise click.UsageError(f"{' and '.join(outputs)} are several outputs: choose one.")
    return bool(outputs) and outputs != ["--out"]


def swallowed(options: dict[str, Any], reads: Callable[[str], object]) -> str:
    """What to say when an output has the name that the command itself should have had; "" when none has.

    `reads` is how the command reads what it is given, and raises BadParameter for all else.
    """
    for option, thing in NAMED:
        name = options[option]
        if name and _can_be_read(name, reads):
            return f"{name!r} was taken as the name of {thing}: write {name} first, or --{option}=NAME."
    return ""


def _can_be_read(text: str, reads: Callable[[str], object]) -> bool:
    try:
        reads(text)
    except click.BadParameter:
        return False
    return True
