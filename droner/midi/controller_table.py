"""Number the controllers that are sent.

Units   controller numbers and values 0..127 as on the wire.
Source  MIDI 1.0 control change numbers (from memory); RPN 0 is the pitch bend range (MIDI 1.0);
        effect depths 91 and 93: General MIDI 2.
"""

from __future__ import annotations

DATA_ENTRY = 6
VOLUME = 7
PAN = 10
EXPRESSION = 11
DATA_ENTRY_FINE = 38
REVERB = 91
CHORUS = 93
RPN_FINE = 100
RPN_COARSE = 101
RESET_CONTROLLERS = 121

FULL = 127
CENTRE = 64
CENTRE_BEND = 0x2000
"""No bend: the middle of 14 bits."""
BEND_RANGE_SEMITONES = 2
"""What RPN 0 sets: the usual range, so that a synthesiser deaf to RPN is right too."""

BEND_RANGE_SETTING: tuple[tuple[int, int], ...] = (
    (RPN_COARSE, 0),
    (RPN_FINE, 0),
    (DATA_ENTRY, BEND_RANGE_SEMITONES),
    (DATA_ENTRY_FINE, 0),
    (RPN_COARSE, FULL),  # the null parameter: a stray data entry changes nothing
    (RPN_FINE, FULL),
)
