"""Put the items of a day in the order in which they are played, with the rest among them.

Rule    block by block, what comes back behind the other items of its block; or in turn, one item of each block after
        the other, evenly over the whole day: each block begins as far into the day as it stands in the session, so
        that a warm-up of one item still comes first, and a study last. The rest comes early: before the first item that
        begins after `REST_AFTER` of the day, or the last item.
Source  turns: Carter & Grahn 2016, doi 10.3389/fpsyg.2016.01251 (ten players). An early rest: Cash 2009 (from memory);
        a third: our choice.
"""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction
from typing import TYPE_CHECKING

from droner.units import Seconds

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from droner.practice.wish import Chosen

REST_AFTER = Fraction(1, 3)


def in_order(chosen: Sequence[Chosen], *, interleaved: bool) -> Sequence[Chosen]:
    """The items as they are played."""
    by_block = sorted(chosen, key=lambda one: (one.item.block.number, bool(one.again)))
    return list(_in_turn(by_block)) if interleaved else by_block


def _in_turn(by_block: Sequence[Chosen]) -> Iterator[Chosen]:
    """Spread each block evenly over the day: item k of n, blocks and items from 0, at (k + block / blocks) / n.

    A single item stands as far into the day as its block does in the session.
    """
    blocks: dict[int, list[Chosen]] = defaultdict(list)
    for one in by_block:
        blocks[one.item.block.number].append(one)
    ways = [
        ((place + Fraction(block, len(blocks) - (len(items) == 1) or 1)) / len(items), block, one)
        for block, items in enumerate(blocks.values())
        for place, one in enumerate(items)
    ]
    yield from (one for _, _, one in sorted(ways, key=lambda way: way[:2]))


def rest_at(ordered: Sequence[Chosen]) -> int | None:
    """The place of the item that the rest comes before, the last one at the latest; None for a single item."""
    whole = sum((one.item.seconds for one in ordered), Seconds(0))
    begun = Seconds(0)
    for place, one in enumerate(ordered):
        if place and begun.exact >= whole.exact * REST_AFTER:
            return place
        begun += one.item.seconds
    return len(ordered) - 1 or None
