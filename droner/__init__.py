"""droner: the ground under a wind player's daily fundamentals.

A session file and the patterns become a plan for today; each item of the plan becomes one `Score`;
everything that sounds, prints or travels is made from that score.

Floors  cli > sound, midi > score > practice > theory > units, errors. Imports only point down.
Cost    importing this package loads no numpy, mido, rtmidi or soundfile.
"""

__version__ = "0.1.0"
