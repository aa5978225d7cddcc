"""`droner rotation`: which keys and variants fall when, and the proof that none is left out."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from droner.cli.options import day_options, json_option, quiet_option, session_argument
from droner.cli.screen import page_width, show, show_json
from droner.cli.values import whole

if TYPE_CHECKING:
    from pathlib import Path

DAYS_SHOWN, MOST_DAYS = 7, 3660


@click.command("rotation", epilog="\b\nExamples:\n  droner rotation\n  droner rotation --days 60 --json")
@session_argument
@day_options
@click.option(
    "--days",
    type=whole(1, MOST_DAYS),
    default=str(DAYS_SHOWN),
    show_default=True,
    metavar="N",
    help=f"Days to show, 1 to {MOST_DAYS}.",
)
@json_option
@quiet_option
def command(session: Path | None, *, days: int, as_json: bool, **options: Any) -> None:
    """Show the coming days of the rotation, how much of the cycle is done, and the proof that it is complete."""
    from droner.cli.day import open_day  # noqa: PLC0415 - help needs none of it
    from droner.cli.rotation_page import coming_days, page, rotation_data  # noqa: PLC0415

    day = open_day(session, **options)
    coming = coming_days(day, days)
    if as_json:
        show_json(rotation_data(day, coming))
    else:
        show(page(day, coming, page_width()))
