"""Choose the tuning an item sounds in.

Rule    just tuning stands on the item's own sounding tonic, unless the session names a reference. What has no key
        has no tonic: each of its notes is its own, so just tuning puts it where equal temperament does. A drill
        that moves its key by half-steps moves its tonic too. Partials over a fingering stand on that fingering,
        their seventh natural.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.practice.drill import Material, Path
from droner.score.sounding import sounding
from droner.theory.pitch import NoteName
from droner.theory.tuning import Tuning, tuning

if TYPE_CHECKING:
    from droner.practice.item import Item
    from droner.practice.layout.line import LaidNote
    from droner.practice.session import Session, TuningOrder
    from droner.theory.pitch import Interval

JUST, EQUAL = "just", "equal"
_C = NoteName(0)


class ItemTuning:
    """The tuning of one item, note by note where the notes are their own tonics."""

    def __init__(self, session: Session, item: Item) -> None:
        self._order = session.tuning
        self._sounding = sounding(item, session)
        self._partials = any(strain.material is Material.PARTIALS for strain in item.drill.strains)
        self._tonic_moves = moves_its_key(item) and _stands_on_tonics(session.tuning)
        self.whole = _whole(session.tuning, item, self._sounding)

    def of(self, note: LaidNote) -> Tuning:
        """The tuning under a note of the line."""
        tonic = (note.root + self._sounding).name
        if self._partials:
            return tuning(self._order.a4_hz, JUST, tonic, seventh="7/4")
        return self.whole.on(tonic) if self._tonic_moves else self.whole


def moves_its_key(item: Item) -> bool:
    """Whether each cell of the drill is in a key of its own, a half-step from the one before."""
    return any(strain.path is Path.HALF_STEPS for strain in item.drill.strains)


def _stands_on_tonics(order: TuningOrder) -> bool:
    return order.temperament == JUST and order.reference is None


def _whole(order: TuningOrder, item: Item, to_sounding: Interval) -> Tuning:
    if item.key is None and _stands_on_tonics(order) and not moves_its_key(item):
        return tuning(order.a4_hz, EQUAL, _C)
    tonic = item.key.tonic + to_sounding if item.key else _C
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
