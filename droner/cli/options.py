"""The options that several commands share, each written once.

Rule    names are the same everywhere; what an option overrides in the session is said in its help.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path
from typing import Any, TypeVar

import click

Decorated = TypeVar("Decorated", bound=Callable[..., Any])
Decorator = Callable[[Decorated], Decorated]


class Day(click.ParamType[date]):
    """A date as YYYY-MM-DD."""

    name = "YYYY-MM-DD"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> date:
        if isinstance(value, date):
            return value
        try:
            return datetime.strptime(value, "%Y-%m-%d").date()  # noqa: DTZ007 - a day of practice has no time zone
        except ValueError:
            self.fail(f"{value!r} is not a date such as 2026-11-25", param, ctx)


def today() -> date:
    """The player's own today. The only clock of the program."""
    return datetime.now().astimezone().date()


def session_argument(command: Decorated) -> Decorated:
    """The session file: practice.toml here, else droner's own."""
    return click.argument("session", required=False, type=click.Path(path_type=Path), metavar="[SESSION]")(command)


def day_options(command: Decorated) -> Decorated:
    """What a day depends on besides the session."""
    for option in reversed(
        (
            click.option("--date", "day", type=Day(), default=today, help="The day to plan. Default: today."),
            click.option("--place", type=click.IntRange(0), help="Take the rotation from this place (from 0)."),
            click.option("--minutes", type=click.FloatRange(5, 240), help="Minutes there are today."),
            click.option("--seed", type=click.IntRange(0), help="Seed of what is drawn (dropped clicks)."),
        )
    ):
        command = option(command)
    return command


def tuning_options(command: Decorated) -> Decorated:
    """A4 and temperament, over what the session says."""
    a4 = click.option("--a4", "a4_hz", type=click.FloatRange(380, 480), metavar="HZ", help="A4 in hertz, 380 to 480.")
    temperament = click.option("--temperament", metavar="NAME", help="just, equal, pythagorean, meantone, ...")
    return a4(temperament(command))


def json_option(command: Decorated) -> Decorated:
    """Data for programs instead of a table."""
    return click.option("--json", "as_json", is_flag=True, help="Print JSON.")(command)


def quiet_option(command: Decorated) -> Decorated:
    """No messages but mistakes."""
    return click.option("--quiet", "-q", is_flag=True, help="No progress and no remarks.")(command)
