"""Turn what the player reads into what sounds.

Rule    a key that would sound in more than seven accidentals sounds as its enharmonic twin, and its notes and chords
        are spelled with it: a B flat clarinet reading E flat minor sounds C sharp minor, not D flat minor.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.theory.pitch import Interval

if TYPE_CHECKING:
    from droner.practice.item import Item
    from droner.practice.session import Session

_RESPELLED = Interval(1, 0)
"""The same sound one letter higher."""


def sounding(item: Item, session: Session) -> Interval:
    """From a written pitch of the item to the pitch that sounds, spelled in the sounding key."""
    plain = session.instrument.sounding
    if item.key is None:
        return plain
    letters = item.key.transposed(plain).tonic.step - (item.key.tonic + plain).step
    return plain + _RESPELLED * ((letters + 3) % 7 - 3)
