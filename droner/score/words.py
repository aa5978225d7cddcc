"""Say an item in words: what the page shows and what a voice speaks.

Rule    written key, since the player reads it; the variant in the words of its factors, leaving out what is
        plain, and where the line starts only if the drill lets it choose. Spoken text has no signs and no figures.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import TYPE_CHECKING

from droner.practice.drill import Path
from droner.practice.partner_table import KIND_BY_NAME, ROLE_BY_NAME

if TYPE_CHECKING:
    from droner.practice.item import Item

PLAIN_WORDS = frozenset({"medium", "no accent", "from the low tonic"})
_ONES = (
    *("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"),
    *("thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"),
)
_SIGNS = str.maketrans(
    {"#": " sharp ", "♯": " sharp ", "♭": " flat ", "°": " diminished ", "+": " and ", "&": " and ", "%": " per cent "}
)
_TENS = ("zero", "ten", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")


def in_words(number: int) -> str:
    """A whole number from 0 to 999 in words: 84 is "eighty-four". ValueError beyond."""
    if not 0 <= number <= 999:
        raise ValueError(f"{number} is not a number of the practice room")
    if number < 20:
        return _ONES[number]
    if number < 100:
        tens, ones = divmod(number, 10)
        return _TENS[tens] + (f"-{_ONES[ones]}" if ones else "")
    hundreds, rest = divmod(number, 100)
    return f"{_ONES[hundreds]} hundred" + (f" and {in_words(rest)}" if rest else "")


def spoken_bpm(bpm: Fraction) -> str:
    """A tempo as a voice says it, to the nearest half: "eighty-four", "sixty-two and a half"."""
    whole, half = divmod(int(bpm * 2 + Fraction(1, 2)), 2)
    return in_words(whole) + (" and a half" if half else "")


def spoken(text: str) -> str:
    """The text with its figures and signs as words."""
    worded = re.sub(r"\d+", lambda found: f" {_figures(found[0])} ", text.translate(_SIGNS))
    return " ".join(worded.split()).replace(" ,", ",")


def _figures(digits: str) -> str:
    return in_words(int(digits)) if len(digits) <= 3 else " ".join(in_words(int(digit)) for digit in digits)


def shown_bpm(bpm: Fraction) -> str:
    """A tempo as a player writes it: "84", "62.5"; no finer than a tenth."""
    return f"{round(float(bpm), 1):g}"


def manner_words(item: Item) -> tuple[str, ...]:
    """The variant in its own words, without what is plain."""
    manner = item.manner
    rhythm = manner.rhythm
    if item.variant is None or rhythm is None:
        return ()
    turns = any(strain.path is Path.TURNING for strain in item.drill.strains)
    moves = manner.dynamic.low != manner.dynamic.high
    words = (
        ("", rhythm.name),
        ("", manner.articulation.name),
        ("dynamic " if moves else "", manner.dynamic.name),
        ("accent ", manner.accent.name),
        ("starts ", manner.turn.name if turns else ""),
    )
    return tuple(label + name for label, name in words if name and name not in PLAIN_WORDS)


def shown_cue(item: Item, speed: Fraction) -> str:
    """What the page and the MIDI file say before an item."""
    tempo = f"{shown_bpm(item.bpm * speed / 100)} a minute"
    title = f"{item.drill.name}, {item.key}" if item.key else item.drill.name
    return "; ".join((": ".join((title, ", ".join((*manner_words(item), tempo)))), *_partner(item)))


def spoken_cue(item: Item, speed: Fraction) -> str:
    """What a voice says before an item."""
    tempo = f"at {spoken_bpm(item.bpm * speed / 100)}"
    title = f"{item.drill.name}, {item.key.spoken}" if item.key else item.drill.name
    return spoken("; ".join((f"next: {', '.join((title, *manner_words(item), tempo))}", *_partner(item))))


def _partner(item: Item) -> tuple[str, ...]:
    """Who the partner is and what the task is, where there is one."""
    order = item.block.partner
    if order is None:
        return ()
    size = f"by {order.cents} {'cent' if order.cents == 1 else 'cents'} at most"
    return (f"your partner {KIND_BY_NAME[order.kind].words}, {size}: {ROLE_BY_NAME[order.role].words}",)
