"""Say what every block of a session would like to play on a day, from the place of the rotation.

Rule    what the session says comes first, then the drill: a block's own keys, one of the day's or all of them. What
        was worked out for one day serves every day on which the rotation stands at the same place of its cycle.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Protocol

from droner.practice.layout.line import DoesNotFit
from droner.practice.portion import divided_keys, divided_phrases
from droner.practice.wish import Chosen, How, Wish, cost_us

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from droner.practice.drill import Drill
    from droner.practice.item import Item
    from droner.practice.items import Items
    from droner.practice.ladder.rung import Rung
    from droner.practice.pattern import Variant
    from droner.practice.session import Block
    from droner.theory.key import Key

Pair = tuple["Key", "Variant | None"]
Placed = tuple[int, ...]
NO_PLACE: Placed = ()


class Climbing(Protocol):
    """Finds the rung of an item; None for a block without a ladder. `opens`: the first of its block today."""

    def __call__(self, block: Block, key: Key | None, variant: Variant | None, *, opens: bool) -> Rung | None:
        """Where its ladder stands."""


class Wishes:
    """The wishes of one session's blocks while its ladders stand where they stand, each worked out once."""

    def __init__(
        self, items: Items, pair: Callable[[int], Pair], variants: tuple[Variant | None, ...], climbing: Climbing
    ) -> None:
        self.items = items
        self._pair = pair
        self._variants = variants
        self._climbing = climbing
        self._known: dict[tuple[int, Placed], Wish] = {}

    def of_day(self, places: Placed) -> tuple[Wish, ...]:
        """What every block would like on a day of these places of the rotation's cycle."""
        return tuple(self._wish(block, places) for block in self.items.session.blocks)

    def item(self, block: Block, key: Key | None, variant: Variant | None, *, opens: bool = False) -> Item | DoesNotFit:
        """An item of a block at the tempo where its ladder stands."""
        return self.items.item(block, key, variant, self._climbing(block, key, variant, opens=opens))

    def _wish(self, block: Block, places: Placed) -> Wish:
        drill = self.items.drill(block)
        same_every_day = not drill.varies and (block.keys is not None or not drill.keyed)
        known = (block.number, NO_PLACE if same_every_day else places)
        if known not in self._known:
            self._known[known] = self._worked_out(block, drill, tuple(map(self._pair, places)))
        return self._known[known]

    def _worked_out(self, block: Block, drill: Drill, pairs: tuple[Pair, ...]) -> Wish:
        how, items = how_of(block, drill), tuple(self._items(block, drill, pairs))
        picks = (
            None if isinstance(item, DoesNotFit) else Chosen(item, ahead if how is How.EACH_KEY else None)
            for ahead, item in enumerate(items)
        )
        wish = Wish(block, how, items, tuple(map(cost_us, items)), tuple(picks))
        if how is How.EVERY_DAY and len(items) > 1:
            return replace(wish, keys=divided_keys(self._most(wish), wish.cap_us))
        if drill.divisible and how is not How.EACH_KEY:
            phrases = (divided_phrases(item, cost_us(item), wish.cap_us) for item in items)
            return replace(wish, phrases=tuple(phrases))
        return wish

    def _most(self, wish: Wish) -> tuple[int, ...]:
        """What each of a block's own keys costs at most: one share for all days, whatever their variants."""
        fitting = zip(wish.items, wish.costs, strict=True)
        if wish.cap_us is None or wish.block.variant is not None or not self.items.drill(wish.block).varies:
            return tuple(cost for item, cost in fitting if not isinstance(item, DoesNotFit))
        every = ([self.item(wish.block, key, one) for one in self._variants] for key in wish.block.keys or ())
        return tuple(most for items in every if (most := max(map(cost_us, items))))

    def _items(self, block: Block, drill: Drill, pairs: tuple[Pair, ...]) -> Iterator[Item | DoesNotFit]:
        """Its items in its own keys, in none, or in each of the day's."""
        if how_of(block, drill) is How.EVERY_DAY:
            first = self._variant(block, pairs[0][1])
            keys = (block.keys if drill.keyed else None) or (None,)
            return (self.item(block, key, first, opens=not number) for number, key in enumerate(keys))
        return (
            self.item(block, key, self._variant(block, today), opens=not ahead)
            for ahead, (key, today) in enumerate(pairs)
        )

    def _variant(self, block: Block, today: Variant | None) -> Variant | None:
        """The variant of a block: today's, none for plain, or its own."""
        if block.variant is None:
            return today
        return self.items.patterns.variants[block.variant - 1] if block.variant else None


def how_of(block: Block, drill: Drill) -> How:
    """How a block goes with the rotation."""
    if not drill.keyed or block.keys is not None:
        return How.EVERY_DAY
    one_key = drill.one_key if block.one_key is None else block.one_key
    return How.ONE_KEY if one_key else How.EACH_KEY
