"""List the keys of the terminal that change a drone or a click while it sounds: one row a key.

Rule    as in `keys_table`: found without looking, the words are those on the screen. Arrows mean the same as another
        key, for not every terminal sends them.
"""

from __future__ import annotations

from droner.cli.keys import DOWN, LEFT, RIGHT, UP
from droner.cli.keys_table import Key

AT_ALL_TIMES = (
    Key(" ", "space", "pause", "pause"),
    Key("q", "q", "end", "end"),
)
DRONE_KEYS = (
    Key("+", "+", "degree up", "degree up", f"={UP}"),
    Key("-", "-", "degree down", "down", f"_{DOWN}"),
    Key(".", ".", "half-step up", "half-step up", f">{RIGHT}"),
    Key(",", ",", "half-step down", "down", f"<{LEFT}"),
    Key("h", "h", "octave up", "octave higher"),
    Key("l", "l", "octave down", "lower"),
    Key("s", "s", "A4 up", "A4 sharper"),
    Key("f", "f", "A4 down", "flatter"),
    Key("e", "e", "temperament", "temperament"),
    Key("t", "t", "timbre", "timbre"),
    *AT_ALL_TIMES,
)
CLICK_KEYS = (
    Key("-", "-", "slower", "slower", f"_{DOWN}"),
    Key("+", "+", "faster", "faster", f"={UP}"),
    Key("p", "p", "pattern", "pattern"),
    Key("m", "m", "meter", "meter"),
    *AT_ALL_TIMES,
)
