"""`droner instruments`: the instruments, their compass by level, and how they sound."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import click

from droner.cli.options import json_option
from droner.cli.table import table
from droner.theory.instrument import INSTRUMENTS, LEVELS
from droner.theory.instrument import instrument as read_instrument

if TYPE_CHECKING:
    from droner.theory.instrument import Instrument

HEADS = ("instrument", "written C sounds", "clef", *LEVELS, "louder goes")
WRITTEN_C = 4


@click.command("instruments", epilog="\b\nExamples:\n  droner instruments\n  droner instruments clarinet")
@click.argument("name", required=False)
@json_option
def command(name: str | None, *, as_json: bool) -> None:
    """List the instruments with their written compass by level; with NAME only that one."""
    rows = [_named(name)] if name else list(INSTRUMENTS.values())
    if as_json:
        click.echo(json.dumps([_data(row) for row in rows], indent=2, ensure_ascii=False))
    else:
        click.echo(table([_row(row) for row in rows], HEADS))


def _named(name: str) -> Instrument:
    try:
        return read_instrument(name)
    except ValueError as unknown:
        raise click.UsageError(str(unknown)) from None


def _sounds(row: Instrument) -> str:
    from droner.theory.pitch import NoteName  # noqa: PLC0415

    return str(row.sounds(NoteName(0).in_octave(WRITTEN_C)))


def _row(row: Instrument) -> tuple[str, ...]:
    return (row.name, _sounds(row), row.clef, *(str(row.ranges[level]) for level in LEVELS), row.loud_goes)


def _data(row: Instrument) -> dict[str, Any]:
    return {
        "name": row.name,
        "aliases": list(row.aliases),
        "family": row.family,
        "written_c4_sounds": _sounds(row),
        "clef": row.clef,
        "written_range": {
            level: {"low": str(row.ranges[level].low), "high": str(row.ranges[level].high)} for level in LEVELS
        },
        "middle": str(row.middle),
        "overblows": row.overblows,
        "louder_goes": row.loud_goes,
    }
