"""Say why an item is in today's plan.

Rule    plain words, what a teacher would say: where the rotation stands, where the tempo comes from, what a short
        day leaves for another. No praise and no scolding.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import date

    from droner.practice.item import Item, Portion
    from droner.practice.plan import PlannedItem, Planner


def reasons(planned: PlannedItem, planner: Planner, today: date) -> tuple[str, ...]:
    """The reasons for one item of a day, the weightiest first."""
    tempo = _tempo(planned, planner, today)
    return tuple(filter(None, (_turn(planned, planner), _part(planned), tempo, _slowed(planned.item))))


def _turn(planned: PlannedItem, planner: Planner) -> str:
    if planned.again:
        return planned.again
    if planned.place is not None:
        cycle = planner.rotation.cycle
        variant = planned.item.variant
        meets = f", with variant {variant.number}" if variant else ""
        return f"turn {planned.place % cycle + 1} of {cycle} in the rotation{meets}"
    if planned.item.block.keys is not None:
        return "its own keys, every day"
    if planned.item.key is not None:
        return "one of today's keys, another one each lap"
    return "every day, in no key"


def _part(planned: PlannedItem) -> str:
    portion = planned.item.portion
    if portion is not None:
        return f"phrases {_span(portion)} of {portion.whole}; the rest comes in turn"
    return "fewer of its keys today; the others come in turn" if planned.cut_short else ""


def _span(portion: Portion) -> str:
    """Its phrases, counted from 1; a portion may end one round and begin the next."""
    last = portion.start + portion.count
    if last <= portion.whole:
        return f"{portion.start + 1} to {last}"
    return f"{portion.start + 1} to {portion.whole}, then 1 to {last - portion.whole},"


def _tempo(planned: PlannedItem, planner: Planner, today: date) -> str:
    climbing = planner.climbing(planned.item, today)
    if climbing is not None:
        group = planner.group(planned.item)
        return f"{group}: {climbing.why}" if group else climbing.why
    return "tempo from the session" if planned.item.block.tempo_bpm else "the drill's own tempo"


def _slowed(item: Item) -> str:
    return "slower where the rhythm has more than four notes a beat" if item.bpm != item.asked_bpm else ""
