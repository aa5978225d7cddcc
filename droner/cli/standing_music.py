"""Make what sounds of a drone or a click, for the loudspeaker or a MIDI port.

Rule    the same scores as the files', so the same hertz, loudness and clicks; but without end.
"""

from __future__ import annotations

from contextlib import AbstractContextManager
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from droner.cli.standing_ground import Ground

if TYPE_CHECKING:
    from collections.abc import Callable

    from droner.cli.standing_pulse import Pulse
    from droner.midi.live.endless import Endless
    from droner.midi.live.port import OutputPort
    from droner.sound.live.device import Speaker
    from droner.sound.live.source import Source

WEIGHED_SECONDS = Fraction(10)
"""So much of a drone is weighed for its loudness: it stays the same."""

State = Any
"""A `Ground` or a `Pulse`."""


def speaker_music(speaker: Speaker, idle: Callable[[], None]) -> AbstractContextManager[Any]:
    """The loudspeaker as an output."""
    from droner.cli.play_speaker import speaker_output  # noqa: PLC0415 - numbers load only for sound
    from droner.sound.mix import Mix  # noqa: PLC0415 - as above

    return speaker_output(speaker, idle, Mix())


def port_music(port: OutputPort, idle: Callable[[], None]) -> AbstractContextManager[Any]:
    """A MIDI port as an output."""
    from droner.cli.play_midi import midi_output  # noqa: PLC0415 - MIDI loads only for a port
    from droner.midi.balance import EVEN_BALANCE  # noqa: PLC0415 - as above

    return midi_output(port, idle, EVEN_BALANCE, clock=False)


def sounded(state: State, rate_hz: int) -> Source:
    """What a loudspeaker plays."""
    return _sounded_drone(state, rate_hz) if isinstance(state, Ground) else _sounded_click(state, rate_hz)


def sent(state: State) -> Endless:
    """What is sent to a port."""
    if isinstance(state, Ground):
        from droner.midi.live.endless_drone import standing_drone  # noqa: PLC0415 - each loads its own

        return standing_drone(state.line, (state.tuned.hz(pitch) for pitch in state.pitches))
    from droner.midi.live.endless_click import endless_click  # noqa: PLC0415 - as above

    pulse: Pulse = state
    return endless_click(pulse.meter, pulse.pattern, pulse.bpm)


def _sounded_drone(ground: Ground, rate_hz: int) -> Source:
    from droner.score.plain import drone_score  # noqa: PLC0415 - each loads its own
    from droner.sound.live.endless import StandingDrone, standing_drone  # noqa: PLC0415 - as above
    from droner.sound.mix import Mix  # noqa: PLC0415 - as above

    mix = Mix(timbre=ground.timbre)
    if not ground.pitches:
        return StandingDrone(ground.line, rate_hz, mix.channel_factors(mix.pan.drone), ())
    return standing_drone(drone_score(ground.pitches, ground.tuned, WEIGHED_SECONDS), mix, rate_hz)


def _sounded_click(pulse: Pulse, rate_hz: int) -> Source:
    from droner.sound.live.endless_click import endless_click  # noqa: PLC0415 - as above
    from droner.sound.mix import Mix  # noqa: PLC0415 - as above

    return endless_click(pulse.meter, pulse.pattern, pulse.bpm, Mix(), rate_hz)
