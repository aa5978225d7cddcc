"""Say what a player should know about a plan as a whole: time left over, where to go on, breaths beyond the air.

Rule    plain words, and a way out with each. Nothing is said where nothing can be done. No praise and no scolding.
Units   seconds; tempos in felt beats a minute.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from droner.practice.item import Item
    from droner.practice.plan import Plan, Planner


def remarks(plan: Plan, planner: Planner) -> tuple[str, ...]:
    """What is to be said of this plan, the weightiest first."""
    return (
        *_breaths(plan),
        *_drones(plan),
        *short_day(plan, planner),
        *_room(plan, planner),
        *_going_on(plan, planner),
    )


def _drones(plan: Plan) -> Iterator[str]:
    """The drones whose task has no place in a drill, and those that are as soft as they get; each once."""
    told: dict[str, None] = {}
    for item in (planned.item for planned in plan.items):
        drone = item.drone
        if (bars := _fewest_bars(item)) < drone.bars_needed:
            told[f"{drone.name} needs {drone.bars_needed} bars; {item.drill.name} has {bars}: the drone sounds on."] = (
                None
            )
        if 0 < drone.softer_over <= plan.sessions_before:
            counted = f"{drone.softer_over} sessions lie behind, counted from begins, or by done"
            told[f"{drone.name} is as soft as it gets: {counted}."] = None
    yield from told


def _fewest_bars(item: Item) -> int:
    """The bars of the shortest time through."""
    return min(
        sum(int(placed.phrase.length.ratio(item.meter.bar)) for placed in repeat.phrases)
        for repeat in item.performance.repeats
    )


def short_day(plan: Plan, planner: Planner) -> Iterator[str]:
    """What becomes of the keys that a day has no time for."""
    played = len({planned.place for planned in plan.items if planned.place is not None})
    if 0 < played < plan.keys_asked:
        later = "come in a later cycle" if planner.session.rotation.by_calendar else "are the next day's first"
        yield f"This day has time for {played} of its {plan.keys_asked} keys; the others {later}."


def _breaths(plan: Plan) -> Iterator[str]:
    """The drills in which a breath would have to last longer than the player's air, each once, at its longest."""
    longest: dict[str, Item] = {}
    for item in (planned.item for planned in plan.items):
        known = longest.get(item.drill.name)
        if item.longest_breath > item.air and (known is None or item.longest_breath > known.longest_breath):
            longest[item.drill.name] = item
    for name, item in longest.items():
        lasts, air, fits = float(item.longest_breath), float(item.air), item.fitting_bpm
        yield f"In {name} one breath lasts {lasts:.1f} s, longer than {air:g} s of air: it fits from {fits} on."


def _room(plan: Plan, planner: Planner) -> Iterator[str]:
    """The keys that the minutes would still have time for, where only `keys_per_day` holds the day."""
    following = [planned.item.seconds for planned in plan.items if planned.place is not None]
    if not following or plan.left_out or plan.moves_on < plan.keys_asked:
        return
    a_key = sum(float(seconds) for seconds in following) / plan.moves_on
    left = float(plan.budget) - float(plan.seconds)
    more = min(int(left / a_key), len(planner.session.rotation.keys) - plan.keys_asked)
    if more > 0:
        keys = "one more key" if more == 1 else f"{more} more keys"
        yield f"There is time for {keys} a day: keys_per_day is {plan.keys_asked}."


def _going_on(plan: Plan, planner: Planner) -> Iterator[str]:
    if plan.moves_on and not planner.session.rotation.by_calendar:
        yield f"When all of it is done, write done = {plan.first_place + plan.moves_on} under [rotation]."
