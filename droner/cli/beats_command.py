"""`droner beats`: how every note beats against a drone, as a page, as sound, as a chart."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from droner.cli.options import completing, json_option, quiet_option, tuning_options
from droner.cli.pitches import one_pitch, tuning_on
from droner.cli.screen import page_width, show, show_json
from droner.cli.values import forms as read_forms
from droner.cli.values import path

if TYPE_CHECKING:
    from collections.abc import Sequence
    from fractions import Fraction
    from pathlib import Path

    from droner.theory.pitch import Pitch

USUAL_FORMS = ("mp3",)
ONE_OCTAVE = 13
"""Degrees, from the unison to the octave."""


@click.command(
    "beats",
    epilog="""\b
Examples:
  droner beats D3                            every degree above a D
  droner beats D4 F#5 A5                     two notes against a D
  droner beats Bb2 --a4 442 --json
  droner beats D3 F#4 A4 --demo beats-on-d   hear them: in tune, 5 cents flat, 5 cents sharp
  droner beats D3 --chart beats-on-d.svg     see how fast each cent beats
""",
)
@click.argument("drone", type=one_pitch)
@click.argument("notes", nargs=-1, type=one_pitch, metavar="[NOTE]...")
@click.option(
    "--demo",
    type=path,
    metavar="DIR",
    help="Write sound files there: each note in tune, then 5 cents flat, then 5 cents sharp.",
    shell_complete=completing("folders"),
)
@click.option(
    "--as",
    "forms",
    type=read_forms,
    metavar="FORMS",
    help="Forms of the demo: wav, wav24, flac, ogg, opus, mp3, mid; several with commas.  [default: mp3]",
    shell_complete=completing("forms"),
)
@click.option(
    "--chart",
    type=path,
    metavar="FILE",
    help="Draw beats against cents off: svg or png by its ending.",
    shell_complete=completing("files"),
)
@tuning_options
@json_option
@quiet_option
def command(
    drone: Pitch, notes: tuple[Pitch, ...], *, demo: Path | None, forms: Sequence[str] | None, chart: Path | None,
    a4_hz: Fraction | None, temperament: str | None, as_json: bool, quiet: bool,
) -> None:  # fmt: skip
    """Show how fast each NOTE beats against a DRONE, both with their octave: D3, F#5, Bb4.

    Without notes: every degree in the octave above the drone, and two octaves higher.

    With --demo or --chart files are made, and their names shown instead of the page. Without notes a chart has the
    degrees of one octave.
    """
    from droner.cli.beats_page import beats_data, degrees, page  # noqa: PLC0415 - help needs none of it
    from droner.theory.beats import beats_against  # noqa: PLC0415

    if forms and not demo:
        raise click.UsageError("--as goes with --demo: name the folder for the sound files.")
    tuned = tuning_on(drone, a4_hz, temperament)
    rows = [beats_against(drone, note, tuned) for note in dict.fromkeys(notes or degrees(drone))]
    made: list[dict[str, Any]] = []
    if chart:  # the first, since it is made in a moment, or refused before any work
        from droner.cli.beats_chart import write_chart  # noqa: PLC0415 - only when a chart is asked for

        made.append(write_chart(chart, rows if notes else rows[:ONE_OCTAVE], tuned))
    if demo:
        from droner.cli.beats_demo import write_demo  # noqa: PLC0415 - only when sound is asked for

        made += write_demo(demo, forms or USUAL_FORMS, rows, tuned, quiet=quiet)
    if as_json:
        show_json(made or [beats_data(row) for row in rows])
    else:
        show("\n".join(one["path"] for one in made) or page(drone, tuned, rows, page_width()))
