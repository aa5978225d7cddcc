"""List the keys of the terminal that give commands while the music plays: one row a key.

Rule    one key for each command, found without looking: a hand leaves the instrument for a moment only. The words are
        those on the screen. `also` are other keys that mean the same: a plus without shift, a capital letter goes too.
"""

from __future__ import annotations

from typing import NamedTuple


class Key(NamedTuple):
    """A key, how it is called on the screen, the command that it gives, and the command in the screen's words."""

    sign: str
    called: str
    command: str
    words: str
    also: str = ""


KEYS = (
    Key("n", "n", "next", "next"),
    Key("a", "a", "again", "again"),
    Key(" ", "space", "pause", "pause"),
    Key("-", "-", "slower", "slower", "_"),
    Key("+", "+", "faster", "faster", "="),
    Key("c", "c", "clean", "clean"),
    Key("m", "m", "not yet", "not yet"),
    Key("d", "d", "drone only", "drone only"),
    Key("q", "q", "end", "end"),
)
COMMAND_OF = {sign: key.command for key in KEYS for sign in key.sign + key.also}
