"""`droner click`: a click, right now, to a file."""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from pathlib import Path
from typing import TYPE_CHECKING

import click

from droner.cli.one_file import write_one
from droner.cli.options import quiet_option
from droner.cli.tracks import safe_name
from droner.errors import nearest
from droner.practice.files import load_patterns
from droner.score.plain import click_score
from droner.theory.meter import meter as read_meter
from droner.theory.tempo import lasting, us_per_quarter

if TYPE_CHECKING:
    from droner.practice.pattern import ClickPattern
    from droner.theory.meter import Meter

USUAL_A4_HZ = 440.0


def meter_argument(_: click.Context, __: click.Parameter, text: str) -> Meter:
    """A meter as an argument gives it."""
    try:
        return read_meter(text)
    except ValueError as unreadable:
        raise click.BadParameter(str(unreadable)) from None


@click.command(
    "click", epilog="\b\nExamples:\n  droner click 4/4 --tempo 84\n  droner click 2+2+3/8 --tempo 200 --out seven.mp3"
)
@click.argument("meter", callback=meter_argument)
@click.option(
    "--tempo",
    type=click.FloatRange(20, 400),
    default=60,
    show_default=True,
    metavar="BPM",
    help="Beats a minute; dotted beats in 6/8 and its kin.",
)
@click.option(
    "--seconds", type=click.FloatRange(1, 7200), default=60, show_default=True, help="How long; ends with a whole bar."
)
@click.option("--pattern", default="every beat", show_default=True, help="A click pattern: see droner patterns.")
@click.option(
    "--out", type=click.Path(path_type=Path), metavar="FILE", help="wav, flac, mp3, ogg, opus or mid by its ending."
)
@quiet_option
def command(meter: Meter, *, tempo: float, seconds: float, pattern: str, out: Path | None, quiet: bool) -> None:
    """Click in a METER such as 4/4, 6/8 or 2+2+3/8. Without --out the file is named after it and written here."""
    bpm = Fraction(tempo)
    bar_seconds = lasting(meter.bar, us_per_quarter(bpm, meter.beat))
    score = click_score(meter, _pattern(pattern), bpm, max(ceil(Fraction(seconds) / bar_seconds.exact), 1), USUAL_A4_HZ)
    write_one(out or Path(safe_name(score.title) + ".wav"), score, "medium", quiet=quiet)


def _pattern(name: str) -> ClickPattern:
    """The pattern of that name: droner's, or the player's own in a folder `patterns` here."""
    patterns = load_patterns(Path("patterns")).clicks
    if name not in patterns:
        close = nearest(name, patterns)
        hint = f" Did you mean {close}?" if close else f" There are: {', '.join(patterns)}."
        raise click.UsageError(f"There is no click pattern {name!r}.{hint}")
    return patterns[name]
