"""`droner today`: the day's plan, with the reason for each item."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from droner.cli.options import day_options, json_option, quiet_option, sessions_argument, tuning_options
from droner.cli.screen import page_width, show, show_json
from droner.cli.values import MOST_ITEMS, whole

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path


@click.command(
    "today",
    epilog="""\b
Examples:
  droner today                    practice.toml here, else the built-in session
  droner today --minutes 10       for a short day
  droner today --date 2026-12-24 --json
  droner today --ledger 2         where every chord of item 2 sounds, in cents
""",
)
@sessions_argument
@day_options
@tuning_options
@click.option(
    "--ledger",
    "item",
    type=whole(1, MOST_ITEMS),
    metavar="ITEM",
    help="Not the plan, but where every chord of this item of it sounds, in cents.",
)
@json_option
@quiet_option
def command(sessions: Sequence[Path], *, item: int | None, as_json: bool, **options: Any) -> None:
    """Show the day's plan: what to play, in which key, how, at what tempo, for how long, and why.

    Several sessions, or a folder of them, make a studio: every plan, and their sum.
    """
    from droner.cli.day import open_day  # noqa: PLC0415 - help plans nothing
    from droner.cli.studio import is_studio  # noqa: PLC0415

    if is_studio(sessions):
        from droner.cli.studio_today import show_days  # noqa: PLC0415 - only for a studio

        show_days(sessions, item=item, as_json=as_json, **options)
        return
    day = open_day(sessions[0] if sessions else None, **options)
    if item is not None:
        from droner.cli import ledger_page  # noqa: PLC0415 - the plan needs no ledger

        rows = ledger_page.ledger_of(day, item)
        if as_json:
            show_json(ledger_page.ledger_data(rows))
        else:
            show(ledger_page.page(day, item, rows))
    elif as_json:
        from droner.cli.plan_data import plan_data  # noqa: PLC0415 - a page needs no data, data need no page

        show_json(plan_data(day))
    else:
        from droner.cli.today_page import page  # noqa: PLC0415 - as above

        show(page(day, page_width()))
