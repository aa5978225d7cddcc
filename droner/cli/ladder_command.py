"""`droner ladder`: where each drill stands on its ladder, how it got there, and when it may reach its target."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from droner.cli.options import completing, json_option, logbook_option, quiet_option, sessions_argument
from droner.cli.options import today as now
from droner.cli.screen import page_width, show, show_json, tell
from droner.cli.values import day as day_value
from droner.cli.values import path

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date
    from pathlib import Path


@click.command(
    "ladder",
    epilog="""\b
Examples:
  droner ladder                       practice.toml here, else the built-in session
  droner ladder --date 2026-12-24 --json
  droner ladder --chart ladder.svg    tempo against day, for each drill
""",
)
@sessions_argument
@click.option("--date", "today", type=day_value, metavar="YYYY-MM-DD", help="The day to look at. Default: today.")
@logbook_option
@click.option(
    "--chart",
    type=path,
    metavar="FILE",
    help="Draw tempo against day: svg or png by its ending; six ladders a page, FILE-2 and so on.",
    shell_complete=completing("files"),
)
@json_option
@quiet_option
def command(sessions: Sequence[Path], *, chart: Path | None, as_json: bool, quiet: bool, **options: Any) -> None:
    """Show where each drill stands on its ladder, how it got there, and when it may reach its target.

    All that is written down up to and including the day is read. With --chart pictures are made, and their names
    shown instead of the page. Several sessions, or a folder of them, make a studio.
    """
    from droner.cli.studio import is_studio, without_logbook  # noqa: PLC0415 - help needs none of it

    if is_studio(sessions):
        from droner.cli.studio_ladder import show_ladders  # noqa: PLC0415 - only for a studio

        without_logbook(options)
        show_ladders(sessions, options["today"] or now(), chart, as_json=as_json, quiet=quiet)
    else:
        _show(sessions[0] if sessions else None, chart, as_json=as_json, quiet=quiet, **options)


def _show(
    session: Path | None, chart: Path | None, *, today: date | None, logbook: Path | None, as_json: bool, quiet: bool
) -> None:
    """The ladders of one session."""
    from droner.cli.day import BUILT_IN_REMARK, session_file  # noqa: PLC0415 - as above
    from droner.cli.ladder_rows import seen  # noqa: PLC0415
    from droner.cli.ladder_words import remark  # noqa: PLC0415
    from droner.cli.logbook import logbook_file  # noqa: PLC0415
    from droner.cli.reading import read_both  # noqa: PLC0415

    file = session_file(session)
    if file is None:
        tell(BUILT_IN_REMARK, quiet=quiet)
    read, patterns = read_both(file)
    kept_in = logbook_file(logbook, file, own=read.own_logbook)
    shown = seen(read, patterns, kept_in, today or now(), whole=chart is not None)
    if told := remark(shown):
        tell(told, quiet=quiet)
    if chart:
        from droner.cli.ladder_chart import write_charts  # noqa: PLC0415 - only when a chart is asked for

        made = write_charts(chart, shown)
        show_json(made) if as_json else show("\n".join(one["path"] for one in made))
    elif as_json:
        from droner.cli.ladder_data import ladders_data  # noqa: PLC0415 - a page needs no data, data need no page

        show_json(ladders_data(shown))
    else:
        from droner.cli.ladder_page import page  # noqa: PLC0415 - as above

        show(page(shown, page_width()))
