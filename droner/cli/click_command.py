"""`droner click`: a click, right now, to a file, the loudspeaker or a MIDI port."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from droner.cli.options import completing, json_option, quiet_option
from droner.cli.standing_options import USUAL_SECONDS, is_live, live_options, seconds_option, swallowed
from droner.cli.values import number, path

if TYPE_CHECKING:
    from collections.abc import Mapping
    from fractions import Fraction

    from droner.cli.standing_pulse import Pulse
    from droner.practice.pattern import ClickPattern
    from droner.theory.meter import Meter
    from droner.units import Seconds

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
\b
With something to play on:
  click 4/4 --tempo 84 --speaker              now, until q; begin softly
  click 6/8 --port fluid                      on the port whose name has "fluid" in it
""",
)
@click.argument("meter", type=read_meter, required=False, metavar="METER")
@click.option(
    "--tempo",
    type=number(20, 400),
    default="60",
    show_default=True,
    metavar="BPM",
    help="Beats a minute, 20 to 400; dotted beats in 6/8 and its kin.",
)
@live_options
@seconds_option
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
def command(meter: Meter | None, **options: Any) -> None:
    """Click in a METER such as 4/4, 6/8 or 2+2+3/8.

    The tempo counts the eighths in 5/8, 7/8 and the like, while "every beat" clicks their groups: 7/8 is 2+2+3 unless
    you write the groups. With --speaker, --port or --own-port it sounds now, and keys change it: - + (or arrows)
    tempo, p pattern, m meter, space pause, q end. Else it is a file that ends with a whole bar, called after the meter
    and written here unless --out says otherwise.
    """
    if meter is None:
        raise click.UsageError(swallowed(options, read_meter) or "Missing argument 'METER'.")
    if is_live(options):
        _sound(meter, options)
    else:
        _write(meter, options)


def _patterns(meter: Meter, options: dict[str, Any]) -> tuple[ClickPattern, Mapping[str, ClickPattern]]:
    """The pattern that is asked for, and all there are. UsageError for one that needs a drill, or a tempo too slow."""
    from droner.cli.names import pick  # noqa: PLC0415 - help clicks nothing
    from droner.cli.standing_pulse import needs_no_drill  # noqa: PLC0415
    from droner.practice.reading.files import load_patterns  # noqa: PLC0415

    patterns = load_patterns(path("patterns")).clicks
    chosen = patterns[pick(options["pattern"], patterns, "click pattern")]
    if not needs_no_drill(chosen):
        raise click.UsageError(f"{chosen.name!r} needs a drill to be heard with: choose another pattern.")
    _bar_seconds(meter, options["tempo"])
    return chosen, patterns


def _bar_seconds(meter: Meter, tempo: Fraction) -> Seconds:
    from droner.theory.tempo import lasting, us_per_quarter  # noqa: PLC0415 - help clicks nothing

    try:
        return lasting(meter.bar, us_per_quarter(tempo, meter.beat))
    except ValueError:
        raise click.UsageError(f"A tempo of {float(tempo):g} is too slow for {meter}: name a faster one.") from None


def _write(meter: Meter, options: dict[str, Any]) -> None:
    from math import ceil  # noqa: PLC0415 - help clicks nothing

    from droner.cli.one_file import write_one  # noqa: PLC0415
    from droner.score.plain import click_score  # noqa: PLC0415

    seconds = USUAL_SECONDS if options["seconds"] is None else options["seconds"]
    pattern, _ = _patterns(meter, options)
    bars = max(ceil(seconds / _bar_seconds(meter, options["tempo"]).exact), 1)
    score = click_score(meter, pattern, options["tempo"], bars, USUAL_A4_HZ)
    write_one(options["out"], score, "medium", as_json=options["as_json"], quiet=options["quiet"])


def _sound(meter: Meter, options: dict[str, Any]) -> None:
    import gc  # noqa: PLC0415 - help clicks nothing

    gc.disable()  # until the click begins: what is loaded now is no garbage
    from droner.cli.standing_keys_table import CLICK_KEYS  # noqa: PLC0415 - help clicks nothing
    from droner.cli.standing_live import Wanted, stand  # noqa: PLC0415

    names = ("speaker", "port", "own_port", "seconds", "as_json", "quiet")
    wanted = Wanted(keyboard=None, **{name: options[name] for name in names})
    stand(wanted, lambda: _pulse(meter, options), CLICK_KEYS)


def _pulse(meter: Meter, options: dict[str, Any]) -> Pulse:
    from droner.cli.standing_pulse import Pulse, needs_no_drill  # noqa: PLC0415 - help clicks nothing

    chosen, patterns = _patterns(meter, options)
    return Pulse(meter, chosen, options["tempo"], meter, tuple(filter(needs_no_drill, patterns.values())))
