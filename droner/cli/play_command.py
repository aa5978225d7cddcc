"""`droner play`: the day live, hands on the instrument."""

from __future__ import annotations

import gc
from typing import TYPE_CHECKING, Any

import click

from droner.cli.options import day_options, json_option, quiet_option, session_argument, tuning_options
from droner.cli.standing_options import swallowed
from droner.cli.values import items, number

if TYPE_CHECKING:
    from fractions import Fraction
    from pathlib import Path

USUAL_WAIT = "4"
LONGEST_WAIT = 600


@click.command(
    "play",
    epilog="""\b
Examples:
  droner play --ports            what there is to play on, and pedals
\b
With something to play on:
  play --port fluid              on the MIDI port whose name has "fluid" in it
  play --speaker                 through the loudspeaker
  play --own-port --clock        on a port of its own, with MIDI clock
  play --pedal foot --learn      choose what each pedal does
""",
)
@session_argument
@day_options
@tuning_options
@click.option("--only", type=items, metavar="ITEMS", help="Only these items of the plan: 2, or 1,3-5.")
@click.option("--guide/--no-guide", default=None, help="The drill itself, played softly along.")
@click.option("--ports", is_flag=True, help="List the MIDI ports and loudspeakers there are.")
@click.option("--port", default="", metavar="NAME", help="The MIDI port; a part of its name will do.")
@click.option("--own-port", is_flag=True, help="Make a MIDI port called droner, for others to connect to.")
@click.option("--pedal", metavar="NAME", help="A MIDI input with pedals that give commands.")
@click.option("--learn", is_flag=True, help="Choose which pedal gives which command.")
@click.option("--clock", is_flag=True, help="Send MIDI clock too: start, stop and song position.")
@click.option(
    "--speaker",
    is_flag=False,
    flag_value="",
    default=None,
    metavar="[NAME]",
    help="Play through the loudspeaker, this one or the usual one.",
)
@click.option("--climb", is_flag=True, help="The ladder may climb between repeats, by today's marks.")
@click.option(
    "--wait",
    "wait_s",
    default=USUAL_WAIT,
    show_default=True,
    type=number(0, LONGEST_WAIT),
    metavar="SECONDS",
    help="The breath between items.",
)
@json_option
@quiet_option
def command(session: Path | None, **options: Any) -> None:
    """Play the day live on a MIDI port or the loudspeaker: item after item, with a breath between.

    Keys, or pedals, say what is next: n next, a again, space pause, - slower, + faster, c clean, m not yet, d drone
    only, q end. Clean and not yet are written into the logbook at once.
    """
    as_json, quiet = options.pop("as_json"), options.pop("quiet")
    if options.pop("ports"):
        from droner.cli.play_ports import show_ports  # noqa: PLC0415 - help looks for nothing

        show_ports(as_json=as_json)
        return
    _refuse_what_does_not_go_together(options)
    if session is None and (hint := swallowed(options, _session_file)):
        raise click.UsageError(hint)
    if options.pop("learn"):
        from droner.cli.play_learning import learn_pedal  # noqa: PLC0415 - as above

        learn_pedal(options["pedal"], as_json=as_json, quiet=quiet)
        return
    _play(session, options, as_json=as_json, quiet=quiet)


def _play(session: Path | None, options: dict[str, Any], *, as_json: bool, quiet: bool) -> None:
    gc.disable()  # until the music begins: what is loaded now is no garbage, and looking through it takes 40 ms
    from droner.cli.play_live import Wanted, play_live  # noqa: PLC0415 - help plays nothing

    only: tuple[int, ...] | None = options.pop("only")
    wait_s: Fraction = options.pop("wait_s")
    names = ("guide", "port", "own_port", "pedal", "clock", "speaker", "climb")
    chosen = {name: options.pop(name) for name in names}
    play_live(session, Wanted(only=only or (), wait_s=wait_s, as_json=as_json, quiet=quiet, **chosen), options)


def _session_file(text: str) -> None:
    """What surely is a session's file, and no output's name. BadParameter else."""
    if not text.endswith(".toml"):
        raise click.BadParameter(text)


def _refuse_what_does_not_go_together(options: dict[str, Any]) -> None:
    """UsageError for two outputs at once, and for learning from nothing."""
    outputs = [
        name
        for name, is_asked in (
            ("--port", bool(options["port"])),
            ("--own-port", options["own_port"]),
            ("--speaker", options["speaker"] is not None),
        )
        if is_asked
    ]
    if len(outputs) > 1:
        raise click.UsageError(f"{' and '.join(outputs)} are several outputs: choose one.")
    if options["clock"] and options["speaker"] is not None:
        raise click.UsageError("--clock is MIDI: a loudspeaker has no use for it.")
    if options["learn"] and options["pedal"] is None:
        raise click.UsageError("--learn needs --pedal NAME: droner play --ports lists the MIDI inputs.")
