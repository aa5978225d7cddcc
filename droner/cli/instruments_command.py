"""`droner instruments`: the instruments, their compass by level, and how they sound."""

from __future__ import annotations

import click

from droner.cli.options import completing, json_option, no_remarks
from droner.cli.screen import page_width, show, show_json


@click.command(
    "instruments",
    epilog="\b\nExamples:\n  droner instruments\n  droner instruments clarinet\n  droner instruments alto-flute --json",
)
@click.argument("name", required=False, shell_complete=completing("instruments"))
@json_option
@no_remarks
def command(name: str | None, *, as_json: bool) -> None:
    """List the instruments with their written compass by level; with NAME only that one."""
    from droner.cli.instruments_page import instrument_data, named, page  # noqa: PLC0415 - help needs no theory

    rows = named(name)
    if as_json:
        show_json([instrument_data(row) for row in rows])
    else:
        show(page(rows, page_width()))
