"""`droner click`: a click, right now, to a file."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from droner.cli.options import completing, json_option, quiet_option
from droner.cli.values import number, path

if TYPE_CHECKING:
    from fractions import Fraction
    from pathlib import Path

    from droner.theory.meter import Meter

USUAL_A4_HZ = 440.0


def read_meter(text: str) -> Meter:
    """A meter as an argument gives it."""
    from droner.theory.meter import meter  # noqa: PLC0415 - help needs no theory

    try:
        return meter(text)
    except ValueError as unreadable:
        raise click.BadParameter(str(unreadable)) from None


@click.command(
    "click",
    epilog="""\b
Examples:
  droner click 4/4 --tempo 84
  droner click 2+2+3/8 --tempo 200 --out seven.mp3
  droner click 6/8 --pattern off-beats --seconds 20
""",
)
@click.argument("meter", type=read_meter)
@click.option(
    "--tempo",
    type=number(20, 400),
    default="60",
    show_default=True,
    metavar="BPM",
    help="Beats a minute, 20 to 400; dotted beats in 6/8 and its kin.",
)
@click.option(
    "--seconds",
    type=number(1, 7200),
    default="60",
    show_default=True,
    metavar="S",
    help="How long, 1 to 7200; ends with a whole bar.",
)
@click.option(
    "--pattern",
    default="every beat",
    show_default=True,
    metavar="NAME",
    help="A click pattern: see droner patterns clicks.",
    shell_complete=completing("clicks"),
)
@click.option(
    "--out",
    type=path,
    metavar="FILE",
    help="wav, flac, ogg, opus, mp3 or mid by its ending.",
    shell_complete=completing("files"),
)
@json_option
@quiet_option
def command(
    meter: Meter, *, tempo: Fraction, seconds: Fraction, pattern: str, out: Path | None, as_json: bool, quiet: bool
) -> None:
    """Click in a METER such as 4/4, 6/8 or 2+2+3/8.

    The tempo counts the eighths in 5/8, 7/8 and the like, while "every beat" clicks their groups: 7/8 is 2+2+3 unless
    you write the groups. Without --out the file is called after the meter and written here.
    """
    from math import ceil  # noqa: PLC0415 - help writes nothing

    from droner.cli.names import pick  # noqa: PLC0415
    from droner.cli.one_file import write_one  # noqa: PLC0415
    from droner.practice.reading.files import load_patterns  # noqa: PLC0415
    from droner.score.plain import click_score  # noqa: PLC0415
    from droner.theory.tempo import lasting, us_per_quarter  # noqa: PLC0415

    patterns = load_patterns(path("patterns")).clicks
    chosen = patterns[pick(pattern, patterns, "click pattern")]
    if chosen.silent or chosen.only or chosen.on_rhythm:
        raise click.UsageError(f"{chosen.name!r} needs a drill to be heard with: choose another pattern.")
    try:
        bar_seconds = lasting(meter.bar, us_per_quarter(tempo, meter.beat))
    except ValueError:
        raise click.UsageError(f"A tempo of {float(tempo):g} is too slow for {meter}: name a faster one.") from None
    bars = max(ceil(seconds / bar_seconds.exact), 1)
    write_one(out, click_score(meter, chosen, tempo, bars, USUAL_A4_HZ), "medium", as_json=as_json, quiet=quiet)
