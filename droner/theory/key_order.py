"""Put all the keys in an order to go round in, from any starting note.

Rule    an order is a full cycle: each of its 12 or 24 keys once, the first on the start's pitch class.
        Keys are spelled as players usually write them, whatever the spelling of the start; a relative
        minor shares its major's signature, so F sharp major goes with D sharp minor.
Source  the orders: `key_order_table`.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

from droner.errors import nearest
from droner.theory.key import Key
from droner.theory.key_order_table import ROWS, USUAL_MAJORS, USUAL_MINORS
from droner.theory.pitch import Interval, NoteName, note_name

_DOWN_A_MINOR_THIRD = Interval(-2, -3)

KEY_ORDERS: Mapping[str, str] = MappingProxyType({row[0]: row[3] for row in ROWS})
"""Every order by its name, with a plain description."""

_WALKS = {name: (half_steps, modes) for name, half_steps, modes, _ in ROWS}


@lru_cache(maxsize=256)
def key_order(name: str, start: NoteName) -> tuple[Key, ...]:
    """The keys of one full cycle. ValueError for an order that is not in the table."""
    asked = " ".join(name.casefold().split())
    if asked not in _WALKS:
        close = nearest(asked, _WALKS)
        hint = f"; did you mean {close}?" if close else ""
        raise ValueError(f"{name!r} is not an order of keys; the orders are {'; '.join(_WALKS)}{hint}")
    half_steps, modes = _WALKS[asked]
    tonics = [(start.pitch_class + half_steps * turn) % 12 for turn in range(12)]
    return tuple(usual_key(tonic, mode) for tonic in tonics for mode in modes)


def usual_key(pitch_class: int, mode: str) -> Key:
    """The key on a pitch class as players usually write it; "relative minor" is that of the major there."""
    if mode == "relative minor":
        return Key(note_name(USUAL_MAJORS[pitch_class]) + _DOWN_A_MINOR_THIRD, "minor")
    spellings = USUAL_MINORS if mode == "minor" else USUAL_MAJORS
    return Key(note_name(spellings[pitch_class]), mode)
