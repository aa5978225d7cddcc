"""Choose the General MIDI sounds: instruments that every synthesiser has, and that stand still.

Rule    the drone and the changes need a sound that holds, with steady pitch and steady loudness and partials
        up to the tenth; anything else makes false beats. The reed organ is the one that measured so.
Units   programs are numbered 0..127 as on the wire (a panel shows one more); keys are MIDI key numbers.
Source  program and percussion names: General MIDI level 1 (program numbers from memory).
        Stillness measured with FluidSynth 2.3.1 and the FluidR3_GM bank, one note for 5 s at D3, D4, A4, as the
        standard deviation of the fundamental's pitch in cents and the travel of its level in dB:
        reed organ 0.01 and 0.0; drawbar organ 14 and 46; church organ 5 and 16; accordion 32 and 51;
        clarinet 2.8 and 0.3; oboe 4.3 and 1.3; slow strings 18 and 41; warm pad 23 and 39.
"""

from __future__ import annotations

from droner.midi.channel_table import Part
from droner.score.score import ClickKind

PROGRAMS: dict[Part, int] = {
    Part.SOLO: 73,  # flute
    Part.DRONE: 20,  # reed organ
    Part.CHANGES: 20,  # reed organ, softer by the balance
}

CLICKS: dict[ClickKind, tuple[int, int]] = {
    # (key, velocity at gain 1). 33 and 34, the metronome sounds, are missing in General MIDI level 1.
    ClickKind.ACCENT: (76, 115),  # high wood block
    ClickKind.BEAT: (77, 96),  # low wood block
    ClickKind.SUBDIVISION: (37, 64),  # side stick
    ClickKind.COUNT: (75, 104),  # claves
}

HELD_VELOCITY = 80
"""Velocity of drone and changes: their loudness is set by the channel's volume."""
