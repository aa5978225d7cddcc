"""Read the pitches and the tuning that a command line names."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from droner.cli.names import temperament_name

if TYPE_CHECKING:
    from fractions import Fraction

    from droner.theory.pitch import Pitch
    from droner.theory.tuning import Tuning

LOWEST_MIDI, HIGHEST_MIDI = 12, 120


def one_pitch(text: str) -> Pitch:
    """A pitch as an argument gives it."""
    from droner.theory.pitch import pitch  # noqa: PLC0415 - help needs no theory

    try:
        read = pitch(text)
    except ValueError as unreadable:
        raise click.BadParameter(str(unreadable)) from None
    if not LOWEST_MIDI <= read.midi <= HIGHEST_MIDI:
        raise click.BadParameter(f"{read} is not a pitch of a wind instrument; C0 to C9 can be played")
    return read


def tuning_on(tonic: Pitch, a4_hz: Fraction | None, temperament: str | None) -> Tuning:
    """The tuning the options ask for: just stands on the tonic, the others on C."""
    from droner.theory.tuning import USUAL_A4_HZ, C, tuning  # noqa: PLC0415 - help needs no theory

    name = temperament_name(temperament) if temperament else "just"
    return tuning(USUAL_A4_HZ if a4_hz is None else float(a4_hz), name, tonic.name if name == "just" else C)
