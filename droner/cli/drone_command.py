"""`droner drone`: a still drone, right now, to a file, the loudspeaker or a MIDI port."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from droner.cli.options import completing, json_option, quiet_option, tuning_options
from droner.cli.pitches import one_pitch
from droner.cli.standing_options import USUAL_SECONDS, is_live, live_options, seconds_option, swallowed
from droner.cli.values import path
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
\b
With something to play on:
  drone D3 A3 --speaker                       now, until q; begin softly
  drone D3 A3 --port fluid                    on the port whose name has "fluid" in it
  drone --keyboard piano --speaker            the keys held on a keyboard
""",
)
@click.argument("pitches", nargs=-1, type=one_pitch, metavar="PITCH...")
@live_options
@click.option("--keyboard", metavar="NAME", help="A MIDI input: the keys held on it are the drone.")
@seconds_option
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
    help=f"How it sounds: see `droner patterns timbres`. Default: {USUAL_TIMBRE}.",
)
@tuning_options
@json_option
@quiet_option
def command(pitches: tuple[Pitch, ...], **options: Any) -> None:
    """Hold up to six pitches as a still drone. The first PITCH is the tonic that the tuning stands on.

    With --speaker, --port or --own-port it sounds now, and keys change it: + - (or arrows) a degree, . , a half-step,
    h l an octave, s f A4, e temperament, t timbre, space pause, q end. Else it is a file, called after the pitches and
    written here unless --out says otherwise.
    """
    tones = tuple(dict.fromkeys(pitches))
    live = is_live(options)
    if len(tones) > MOST_TONES:
        raise click.UsageError(f"A drone holds at most {MOST_TONES} tones, not {len(tones)}.")
    if options["keyboard"] is not None and not live:
        raise click.UsageError("--keyboard needs a drone that sounds now: add --speaker, --port or --own-port.")
    if not tones and options["keyboard"] is None:
        hint = swallowed(options, one_pitch)
        raise click.UsageError(hint or "Name a PITCH such as D3, or a --keyboard to hold it on.")
    if live:
        _sound(tones, options)
    else:
        _write(tones, **{name: options[name] for name in (*FILE_OPTIONS, "as_json", "quiet")})


FILE_OPTIONS = ("seconds", "out", "timbre", "a4_hz", "temperament")


def _write(
    tones: tuple[Pitch, ...], *, seconds: Fraction | None, out: Path | None, timbre: str | None,
    a4_hz: Fraction | None, temperament: str | None, as_json: bool, quiet: bool,
) -> None:  # fmt: skip
    from fractions import Fraction  # noqa: PLC0415 - help writes nothing

    from droner.cli.one_file import write_one  # noqa: PLC0415
    from droner.cli.pitches import tuning_on  # noqa: PLC0415
    from droner.score.plain import drone_score  # noqa: PLC0415

    length = Fraction(USUAL_SECONDS) if seconds is None else seconds
    score = drone_score(tones, tuning_on(tones[0], a4_hz, temperament), length)
    write_one(out, score, timbre or USUAL_TIMBRE, as_json=as_json, quiet=quiet)


def _sound(tones: tuple[Pitch, ...], options: dict[str, Any]) -> None:
    if options["timbre"] is not None and options["speaker"] is None:
        raise click.UsageError("--timbre is for the loudspeaker: a MIDI instrument has its own.")
    import gc  # noqa: PLC0415 - help plays nothing

    gc.disable()  # until the drone begins: what is loaded now is no garbage
    from droner.cli.standing_keys_table import DRONE_KEYS  # noqa: PLC0415 - help plays nothing
    from droner.cli.standing_live import Wanted, stand  # noqa: PLC0415
    from droner.errors import MachineError  # noqa: PLC0415

    names = ("speaker", "port", "own_port", "keyboard", "seconds", "as_json", "quiet")
    try:
        stand(Wanted(**{name: options[name] for name in names}), lambda: _ground(tones, options), DRONE_KEYS)
    except MachineError as wrong:
        hint = swallowed(options, one_pitch)
        raise MachineError(f"{wrong}\n{hint}") if hint else wrong from None


def _ground(tones: tuple[Pitch, ...], options: dict[str, Any]) -> Any:
    from fractions import Fraction  # noqa: PLC0415 - help plays nothing

    from droner.cli.names import temperament_name  # noqa: PLC0415
    from droner.cli.standing_ground import ground  # noqa: PLC0415
    from droner.theory.tuning import USUAL_A4_HZ  # noqa: PLC0415

    temperament = temperament_name(options["temperament"] or "just")
    a4_hz = Fraction(USUAL_A4_HZ) if options["a4_hz"] is None else options["a4_hz"]
    if options["speaker"] is None:
        return ground(tones, a4_hz, temperament, "", ())
    return ground(tones, a4_hz, temperament, options["timbre"] or USUAL_TIMBRE, tuple(TIMBRES))
