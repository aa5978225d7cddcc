"""`droner patterns`: what there is to put into a session."""

from __future__ import annotations

import click

from droner.cli.kind_table import KINDS
from droner.cli.options import completing, json_option, no_remarks
from droner.cli.screen import page_width, show, show_json
from droner.cli.values import path


def kind_name(text: str) -> str:
    """A kind of patterns as an argument gives it."""
    from droner.cli.names import pick  # noqa: PLC0415 - help reads nothing

    return pick(text, KINDS, "kind of patterns")


@click.command(
    "patterns",
    epilog="""\b
Examples:
  droner patterns
  droner patterns drills
  droner patterns variants --json
""",
)
@click.argument("kind", required=False, type=kind_name, metavar="[KIND]", shell_complete=completing("kinds"))
@json_option
@no_remarks
def command(kind: str | None, *, as_json: bool) -> None:
    """List what a session can name: drills, rhythms, clicks, chords, drones, timbres, variants.

    KIND is one of drills, rhythms, articulations, dynamics, accents, turns, clicks, changes, drones, timbres,
    variants, orders (of keys). A folder `patterns` here, with files of your own, is listed too.
    """
    from droner.cli.patterns_page import page, patterns_data  # noqa: PLC0415 - help reads nothing
    from droner.practice.reading.files import load_patterns  # noqa: PLC0415

    patterns = load_patterns(path("patterns"))
    kinds = [kind] if kind else list(KINDS)
    if as_json:
        show_json(patterns_data(patterns, kinds))
    else:
        show(page(patterns, kinds, page_width()))
