"""Choose the tuning an item sounds in.

Rule    just tuning stands on the item's own sounding tonic, unless the session names a reference. What has no key
        has no tonic: each of its notes is its own, so just tuning puts it where equal temperament does. Partials
        over a fingering stand on that fingering, their seventh natural.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.practice.pattern import Material
from droner.theory.pitch import NoteName
from droner.theory.tuning import Tuning, tuning

if TYPE_CHECKING:
    from droner.practice.item import Item
    from droner.practice.line import LaidNote
    from droner.practice.session import Session, TuningOrder
    from droner.theory.pitch import Interval

JUST, EQUAL = "just", "equal"
_C = NoteName(0)


class ItemTuning:
    """The tuning of one item, note by note where the notes are their own tonics."""

    def __init__(self, session: Session, item: Item) -> None:
        self._order = session.tuning
        self._sounding = session.instrument.sounding
        self._partials = any(strain.material is Material.PARTIALS for strain in item.drill.strains)
        self.whole = _whole(session.tuning, item, session.instrument.sounding)

    def of(self, note: LaidNote) -> Tuning:
        """The tuning under a note of the line."""
        if not self._partials:
            return self.whole
        return tuning(self._order.a4_hz, JUST, (note.root + self._sounding).name, seventh="7/4")


def _whole(order: TuningOrder, item: Item, sounding: Interval) -> Tuning:
    if item.key is None and order.temperament == JUST and order.reference is None:
        return tuning(order.a4_hz, EQUAL, _C)
    tonic = item.key.tonic + sounding if item.key else _C
    reference = order.reference or (tonic if order.temperament == JUST else _C)
    return tuning(
        order.a4_hz,
        order.temperament,
        reference,
        anchor=order.anchor or None,
        minor_third=order.minor_third,
        second=order.second,
        seventh=order.seventh,
    )
