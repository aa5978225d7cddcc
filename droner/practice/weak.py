"""Bring back what went badly, as items of their own that do not move the rotation.

Rule    at most so many a day as the session says, the worst first, while they take no more than a quarter of the day;
        in the key and the variant in which they went badly, at the tempo where their ladder stands now. A key that the
        rotation brings today anyway does not come twice. What this session does not play, or its compass does not
        hold, does not come back.
Units   costs in whole microseconds.
Source  a quarter: common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.practice.layout.line import DoesNotFit
from droner.practice.wish import Chosen, cost_us

if TYPE_CHECKING:
    from collections.abc import Collection
    from datetime import date

    from droner.practice.history import Past
    from droner.practice.item import Item
    from droner.practice.logbook.entry import Entry
    from droner.practice.session import Session
    from droner.practice.wishes import Wishes
    from droner.theory.key import Key

SHARE_OF_THE_DAY = 4


def weak_items(
    session: Session, history: Past, today: date, wishes: Wishes, budget_us: int, turns: Collection[str]
) -> tuple[tuple[Chosen, ...], int]:
    """The items that come back on a day, and what they take out of it. `turns`: the keys that the rotation brings."""
    found: list[Chosen] = []
    left = budget_us // SHARE_OF_THE_DAY
    for entry in history.weak(today) if session.weak_keys else ():
        item = None if entry.key in turns else _item(entry, session, wishes)
        if item is None or cost_us(item) > left:
            continue
        left -= cost_us(item)
        when = f"{entry.day:%A} {entry.day.day} {entry.day:%B}"
        found.append(Chosen(item, None, again=f"{entry.clean} of {entry.total} clean on {when}: once more"))
        if len(found) == session.weak_keys:
            break
    return tuple(found), budget_us // SHARE_OF_THE_DAY - left


def _item(entry: Entry, session: Session, wishes: Wishes) -> Item | None:
    block = next((one for one in session.blocks if one.drill == entry.drill), None)
    key = _key(entry.key, session)
    if block is None or key is None:
        return None
    variants = wishes.items.patterns.variants
    variant = variants[entry.variant - 1] if 0 < entry.variant <= len(variants) else None
    item = wishes.item(block, key, variant)
    return None if isinstance(item, DoesNotFit) else item


def _key(text: str, session: Session) -> Key | None:
    """The key of the rotation that the player reads by this name; None for none."""
    return next((key for key in session.rotation.keys if str(_as_read(key, session)) == text), None)


def _as_read(key: Key, session: Session) -> Key:
    return key.transposed(-session.instrument.sounding) if session.concert_keys else key
