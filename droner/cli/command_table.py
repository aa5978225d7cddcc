"""List the commands in the order of a player's day, one a line, with what each does.

Rule    a line here stands for the module `droner.cli.NAME_command`, which is imported only when that command runs.
"""

from __future__ import annotations

COMMANDS = {
    "new": "Write a starter session file, with a comment beside every line.",
    "check": "Read session and pattern files; report every mistake.",
    "today": "Show the day's plan: keys, variants, tempo, minutes, and why.",
    "render": "Make the day's tracks and MIDI files.",
    "play": "Play the day live, on a MIDI port or the loudspeaker.",
    "log": "Write down how the items of a day went.",
    "ladder": "Show where each drill stands, and how it got there.",
    "rotation": "Show which keys and variants are played when, and the proof.",
    "beats": "Show how fast each note beats against a drone.",
    "drone": "Hold a still drone right now, in a file or live.",
    "click": "Click right now, in a file or live.",
    "patterns": "List the drills, rhythms, clicks, chords and drones there are.",
    "instruments": "List the instruments, their ranges and transpositions.",
}
