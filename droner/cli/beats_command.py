"""`droner beats`: how every note beats against a drone."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import click

from droner.cli.options import json_option, tuning_options
from droner.cli.pitches import pitch_argument, tuning_on
from droner.cli.table import table
from droner.theory.beats import DegreeBeats, beats_against
from droner.theory.pitch import OCTAVE, Interval

if TYPE_CHECKING:
    from droner.theory.pitch import Pitch

DEGREES = tuple(
    Interval(steps, semitones)
    for steps, semitones in (
        (0, 0), (1, 1), (1, 2), (2, 3), (2, 4), (3, 5), (3, 6), (4, 7), (5, 8), (5, 9), (6, 10), (6, 11), (7, 12),
    )
)  # fmt: skip
HEADS = (
    "note",
    "pure",
    "drone:note",
    "cents",
    "beats/s if equal",
    "sounds",
    "beats/s a cent",
    "best drone",
    "difference Hz",
)


@click.command(
    "beats", epilog="\b\nExamples:\n  droner beats D3\n  droner beats D4 F#5 A5\n  droner beats Bb2 --a4 442 --json"
)
@click.argument("drone", callback=pitch_argument)
@click.argument("notes", nargs=-1, callback=pitch_argument, metavar="[NOTE...]")
@tuning_options
@json_option
def command(
    drone: Pitch, notes: tuple[Pitch, ...], *, a4_hz: float | None, temperament: str | None, as_json: bool
) -> None:
    """Show beats per second of each NOTE against a DRONE, both with their octave: D3, F#5, Bb4.

    Without notes: every degree in the octave above the drone, and two octaves higher. "cents" is where the pure
    note lies against equal temperament; "beats/s if equal" what you hear if you stay where a tuner shows zero;
    "best drone" the octave of the drone that lets you count.
    """
    tuned = tuning_on(drone, a4_hz, temperament)
    asked = notes or tuple(drone + OCTAVE * octaves + degree for octaves in (0, 2) for degree in DEGREES)
    rows = [beats_against(drone, note, tuned) for note in asked]
    if as_json:
        click.echo(json.dumps([_data(row) for row in rows], indent=2))
        return
    click.echo(f"Drone {drone}: {tuned.hz(drone):.2f} Hz\n")
    click.echo(table([_row(row) for row in rows], HEADS, right=(1, 2, 3, 4, 6, 8)))


def _row(row: DegreeBeats) -> tuple[str, ...]:
    best = f"{row.drone.name}{row.best_drone_octave}" if row.best_drone_octave is not None else "none"
    return (
        str(row.note),
        str(row.ratio),
        f"{row.drone_partial}:{row.player_partial}",
        f"{row.target_cents:+.1f}",
        f"{abs(row.equal_beat_hz):.2f}",
        row.heard_as,
        f"{row.beat_hz_per_cent:.3f}",
        best,
        f"{row.difference_hz:.1f}",
    )


def _data(row: DegreeBeats) -> dict[str, Any]:
    return {
        "drone": str(row.drone),
        "note": str(row.note),
        "drone_hz": row.drone_hz,
        "target_hz": row.target_hz,
        "ratio": str(row.ratio),
        "target_cents": row.target_cents,
        "drone_partial": row.drone_partial,
        "player_partial": row.player_partial,
        "beats_if_equal": row.equal_beat_hz,
        "beats_as_tuned": row.tuned_beat_hz,
        "beats_a_cent": row.beat_hz_per_cent,
        "heard_as": row.heard_as,
        "best_drone_octave": row.best_drone_octave,
        "difference_hz": row.difference_hz,
    }
