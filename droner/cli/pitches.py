"""Read the pitches and the tuning that a command line names."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from droner.theory.pitch import Pitch, pitch
from droner.theory.tuning import USUAL_A4_HZ, tuning

if TYPE_CHECKING:
    from droner.theory.tuning import Tuning

LOWEST_MIDI, HIGHEST_MIDI = 12, 120


def pitch_argument(_: click.Context, __: click.Parameter, value: Any) -> Pitch | tuple[Pitch, ...]:
    """One pitch or several, as an argument gives them."""
    return tuple(map(_read, value)) if isinstance(value, tuple) else _read(value)


def _read(text: str) -> Pitch:
    try:
        read = pitch(text)
    except ValueError as unreadable:
        raise click.BadParameter(str(unreadable)) from None
    if not LOWEST_MIDI <= read.midi <= HIGHEST_MIDI:
        raise click.BadParameter(f"{read} is not a pitch of a wind instrument; C0 to C9 can be played")
    return read


def tuning_on(tonic: Pitch, a4_hz: float | None, temperament: str | None) -> Tuning:
    """The tuning the options ask for: just stands on the tonic, the circular ones on C."""
    from droner.cli.day import temperament_name  # noqa: PLC0415 - sessions are read only when an option needs it
    from droner.theory.tuning import C  # noqa: PLC0415

    name = temperament_name(temperament) if temperament else "just"
    return tuning(USUAL_A4_HZ if a4_hz is None else a4_hz, name, tonic.name if name == "just" else C)
