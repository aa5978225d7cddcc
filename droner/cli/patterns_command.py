"""`droner patterns`: what there is to put into a session."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

import click

from droner.cli.options import json_option
from droner.cli.table import table
from droner.practice.files import load_patterns

if TYPE_CHECKING:
    from collections.abc import Mapping

    from droner.practice.pattern import Patterns

KINDS = (
    "drills",
    "rhythms",
    "articulations",
    "dynamics",
    "accents",
    "turns",
    "clicks",
    "changes",
    "drones",
    "variants",
)


@click.command(
    "patterns", epilog="\b\nExamples:\n  droner patterns\n  droner patterns drills\n  droner patterns variants --json"
)
@click.argument("kind", required=False, type=click.Choice([*KINDS, "orders"]))
@json_option
def command(kind: str | None, *, as_json: bool) -> None:
    """List the drills, rhythms, clicks, chords, drones and variants; with KIND only one of them.

    A folder `patterns` here, with files of your own, is listed too.
    """
    patterns = load_patterns(Path("patterns"))
    kinds = [kind] if kind else [*KINDS, "orders"]
    listed = {one: _rows(patterns, one) for one in kinds}
    if as_json:
        data = {one: [{"name": name, "about": about} for name, about in rows] for one, rows in listed.items()}
        click.echo(json.dumps(data, indent=2, ensure_ascii=False))
        return
    for one, rows in listed.items():
        heading = "orders of keys" if one == "orders" else one
        click.echo(f"{heading}\n{table([(f'  {name}', about) for name, about in rows])}\n")


def _rows(patterns: Patterns, kind: str) -> list[tuple[str, str]]:
    if kind == "orders":
        from droner.theory.key_order import KEY_ORDERS  # noqa: PLC0415 - listed once in a while

        return list(KEY_ORDERS.items())
    if kind == "variants":
        sets = [(name, row.about) for name, row in patterns.variant_sets.items()]
        rows = [(str(row.number), row.words) for row in patterns.variants]
        return [*sets, *rows]
    found: Mapping[str, object] = getattr(patterns, kind)
    return [(name, str(getattr(row, "about", ""))) for name, row in found.items()]
