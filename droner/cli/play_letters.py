"""Write words in large letters.

Units   cells of a terminal.
"""

from __future__ import annotations

from droner.cli.play_letters_table import LETTERS

ROWS = 5
INK = "#"
FULL_BLOCK = "\N{FULL BLOCK}"


def large(text: str, ink: str = FULL_BLOCK) -> tuple[str, ...]:
    """The text in five rows; signs that nobody has drawn are left out."""
    drawn = [LETTERS[sign] for sign in text.upper() if sign in LETTERS]
    return tuple(" ".join(letter[row] for letter in drawn).replace(INK, ink) for row in range(ROWS))


def large_width(text: str) -> int:
    """How wide that is."""
    return len(large(text)[0])


def fitting(texts: tuple[str, ...], wide: int) -> str:
    """The first of some texts that has room; "" when none has."""
    return next((text for text in texts if large_width(text) <= wide), "")
