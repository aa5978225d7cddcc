"""`droner rotation`: which keys and variants fall when, what is played of them, and the proof that none is left out."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Any

import click

from droner.cli.options import completing, day_options, json_option, quiet_option, session_argument
from droner.cli.screen import page_width, show, show_json, tell
from droner.cli.values import path, whole

if TYPE_CHECKING:
    from pathlib import Path

    from droner.cli.day import Day
    from droner.cli.rotation_played import Played

DAYS_SHOWN, MOST_DAYS = 7, 3660
MOST_CYCLES = 10**6
NO_LOGBOOK = "There is no logbook yet: nothing counts as played. droner log writes down what is."


@click.command(
    "rotation",
    epilog="""\b
Examples:
  droner rotation
  droner rotation --days 60 --json
  droner rotation --map                       what is played, a sign for each key and variant
  droner rotation --chart map.svg             the same as a picture
  droner rotation --certificate cycle.jsonl   write down what is played, entry by entry
  droner rotation --recheck cycle.jsonl       count it again
""",
)
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
@click.option(
    "--cycle",
    type=whole(1, MOST_CYCLES),
    metavar="N",
    help="The cycle that map, chart and certificate show, from 1. Default: the one it stands in.",
)
@click.option("--map", "as_map", is_flag=True, help="Show every key and variant with what is played; with --json too.")
@click.option(
    "--chart",
    type=path,
    metavar="FILE",
    help="Draw the map: svg or png by its ending. Needs droner[charts].",
    shell_complete=completing("files"),
)
@click.option(
    "--certificate",
    type=path,
    metavar="FILE",
    help="Write down what is played and what is missing, for anyone to count again (JSON Lines).",
    shell_complete=completing("files"),
)
@click.option(
    "--recheck",
    type=path,
    metavar="FILE",
    help="Count a certificate again, and look its entries up in the logbook.",
    shell_complete=completing("files"),
)
@json_option
@quiet_option
def command(
    session: Path | None, *, days: int, cycle: int | None, as_map: bool, chart: Path | None, certificate: Path | None,
    recheck: Path | None, as_json: bool, **options: Any,
) -> None:  # fmt: skip
    """Show the coming days of the rotation, how much of the cycle is played, and the proof that it is complete.

    With --chart or --certificate files are made, and their names shown instead of the page.
    """
    if recheck:
        if as_map or chart or certificate or cycle:
            raise click.UsageError("--recheck reads a file that is there: ask for nothing else with it.")
        _recheck(recheck, session, options["logbook"], as_json=as_json)
        return
    if chart and certificate and chart.absolute() == certificate.absolute():
        raise click.UsageError(f"{chart} cannot be both the chart and the certificate: name two files.")
    from droner.cli.day import open_day  # noqa: PLC0415 - help needs none of it
    from droner.cli.rotation_played import played_of  # noqa: PLC0415

    day = open_day(session, whole_past=True, **options)
    played = played_of(day, cycle=cycle and cycle - 1, placed=options["place"] is not None)
    if (as_map or chart or certificate) and not played.kept:
        tell(NO_LOGBOOK, quiet=options["quiet"])
    made = _made(day, played, chart, certificate)
    if made:
        show_json(made) if as_json else show("\n".join(one["path"] for one in made))
    else:
        _show(day, played, days, as_map=as_map, as_json=as_json)


def _recheck(file: Path, session: Path | None, logbook: Path | None, *, as_json: bool) -> None:
    from droner.cli.rotation_certificate import recheck_data, recheck_page, rechecked  # noqa: PLC0415 - only for this

    told = rechecked(file, session, logbook)
    show_json(recheck_data(told)) if as_json else show(recheck_page(told, page_width()))


def _made(day: Day, played: Played, chart: Path | None, certificate: Path | None) -> list[dict[str, Any]]:
    """The files that are asked for, as data. The chart first: it may be refused before anything is written."""
    made = []
    if chart:
        from droner.cli.rotation_chart import write_map  # noqa: PLC0415 - only when a chart is asked for

        made.append(write_map(chart, day, played))
    if certificate:
        from droner.cli.rotation_certificate import write_certificate  # noqa: PLC0415 - only for this

        made.append(write_certificate(certificate, day, played))
    return made


def _show(day: Day, played: Played, days: int, *, as_map: bool, as_json: bool) -> None:
    from droner.cli.rotation_map import map_page, signs_for  # noqa: PLC0415 - not for a file
    from droner.cli.rotation_page import coming_days, page, rotation_data  # noqa: PLC0415

    coming = coming_days(day, days, played.skipped)
    if as_json:
        show_json(rotation_data(day, coming, played, with_map=as_map))
    elif as_map:
        show(map_page(played, page_width(), signs_for(getattr(sys.stdout, "encoding", None) or "ascii")))
    else:
        show(page(day, coming, page_width(), played))
