"""`droner drone`: a still drone, right now, to a file."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from droner.cli.options import completing, json_option, quiet_option, tuning_options
from droner.cli.pitches import one_pitch
from droner.cli.values import number, path
from droner.sound.timbre_table import TIMBRES, USUAL_TIMBRE

if TYPE_CHECKING:
    from fractions import Fraction
    from pathlib import Path

    from droner.theory.pitch import Pitch

MOST_TONES = 6


@click.command(
    "drone",
    epilog="""\b
Examples:
  droner drone D3                             a minute of D, in a file here
  droner drone D3 A3 --temperament just --seconds 60 --out d.wav
""",
)
@click.argument("pitches", nargs=-1, required=True, type=one_pitch, metavar="PITCH...")
@click.option(
    "--seconds", type=number(1, 7200), default="60", show_default=True, metavar="S", help="How long, 1 to 7200."
)
@click.option(
    "--out",
    type=path,
    metavar="FILE",
    help="wav, flac, ogg, opus, mp3 or mid by its ending.",
    shell_complete=completing("files"),
)
@click.option(
    "--timbre",
    type=click.Choice(tuple(TIMBRES)),
    default=USUAL_TIMBRE,
    show_default=True,
    help="How it sounds: see `droner patterns timbres`.",
)
@tuning_options
@json_option
@quiet_option
def command(
    pitches: tuple[Pitch, ...], *, seconds: Fraction, out: Path | None, timbre: str,
    a4_hz: Fraction | None, temperament: str | None, as_json: bool, quiet: bool,
) -> None:  # fmt: skip
    """Hold up to six pitches as a still drone. The first PITCH is the tonic that the tuning stands on.

    Without --out the file is called after the pitches and written here.
    """
    from droner.cli.one_file import write_one  # noqa: PLC0415 - help writes nothing
    from droner.cli.pitches import tuning_on  # noqa: PLC0415
    from droner.score.plain import drone_score  # noqa: PLC0415

    tones = tuple(dict.fromkeys(pitches))
    if len(tones) > MOST_TONES:
        raise click.UsageError(f"A drone holds at most {MOST_TONES} tones, not {len(tones)}.")
    score = drone_score(tones, tuning_on(tones[0], a4_hz, temperament), seconds)
    write_one(out, score, timbre, as_json=as_json, quiet=quiet)
