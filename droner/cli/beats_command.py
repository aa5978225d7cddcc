"""`droner beats`: how every note beats against a drone."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from droner.cli.options import json_option, no_remarks, tuning_options
from droner.cli.pitches import one_pitch, tuning_on
from droner.cli.screen import show, show_json

if TYPE_CHECKING:
    from fractions import Fraction

    from droner.theory.pitch import Pitch


@click.command(
    "beats",
    epilog="""\b
Examples:
  droner beats D3                   every degree above a D
  droner beats D4 F#5 A5            two notes against a D
  droner beats Bb2 --a4 442 --json
""",
)
@click.argument("drone", type=one_pitch)
@click.argument("notes", nargs=-1, type=one_pitch, metavar="[NOTE]...")
@tuning_options
@json_option
@no_remarks
def command(
    drone: Pitch, notes: tuple[Pitch, ...], *, a4_hz: Fraction | None, temperament: str | None, as_json: bool
) -> None:
    """Show how fast each NOTE beats against a DRONE, both with their octave: D3, F#5, Bb4.

    Without notes: every degree in the octave above the drone, and two octaves higher.
    """
    from droner.cli.beats_page import beats_data, degrees, page  # noqa: PLC0415 - help needs none of it
    from droner.theory.beats import beats_against  # noqa: PLC0415

    tuned = tuning_on(drone, a4_hz, temperament)
    rows = [beats_against(drone, note, tuned) for note in notes or degrees(drone)]
    if as_json:
        show_json([beats_data(row) for row in rows])
    else:
        show(page(drone, tuned, rows))
