"""Write words as bytes that any reader of MIDI files shows.

Rule    SMF 1.0 advises printable ASCII. Signs of the trade that have an ASCII form take it; control characters
        become spaces; what is left (names in other alphabets) is UTF-8, which today's readers expect.
Source  SMF 1.0, text events.
"""

from __future__ import annotations

ASCII_FORMS: dict[str, str] = {
    "♯": "#",
    "♭": "b",
    "♮": " natural",
    "𝄪": "x",
    "𝄫": "bb",
    "–": "-",
    "—": "-",
    "−": "-",
    "→": "->",
    "×": "x",
    "·": "-",
    "…": "...",
    "‘": "'",
    "’": "'",
    "“": '"',
    "”": '"',
    "\N{NO-BREAK SPACE}": " ",
    "\N{NARROW NO-BREAK SPACE}": " ",
}
_FORMS = str.maketrans(ASCII_FORMS)


def text_bytes(words: str) -> bytes:
    """The words as the bytes of a text event."""
    plain = "".join(sign if sign.isprintable() else " " for sign in words.translate(_FORMS))
    return plain.encode("utf-8")
