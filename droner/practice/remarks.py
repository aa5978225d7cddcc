"""Say what a player should know about a plan as a whole: breaths beyond the air, silence, time left, where to go on.

Rule    plain words, and a way out with each. Nothing is said where nothing can be done. No praise and no scolding.
Units   seconds; tempos in felt beats a minute.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.practice.alone import forbidden, sounds_alone, unwanted

if TYPE_CHECKING:
    from collections.abc import Iterator

    from droner.practice.item import Item
    from droner.practice.plan import Plan, Planner
    from droner.practice.session import Session


NO_CHORDS = "none"
"""The kind of changes that have none."""


def remarks(plan: Plan, planner: Planner) -> tuple[str, ...]:
    """What is to be said of this plan, the weightiest first."""
    return (
        *_shrunk(plan, planner.session),
        *_rest(plan),
        *_plateaus(plan, planner),
        *_breaths(plan),
        *_silent(plan, planner.session),
        *_drones(plan),
        *_alone(plan, planner.session),
        *_asked_for(plan, planner.session),
        *short_day(plan, planner),
        *_room(plan, planner),
        *_going_on(plan, planner),
    )


def _shrunk(plan: Plan, session: Session) -> Iterator[str]:
    """Why a day is shorter than the session says."""
    if plan.allotted.shrunk and session.load_growth is not None:
        fits, growth = int(plan.budget.exact // 60), float(session.load_growth)
        week, fullest = (round(float(seconds) / 60) for seconds in plan.allotted.played)
        yield (
            f"Shortened to {fits} minutes: the last six days held {week} minutes, the fullest seven of the four weeks "
            f"before {fullest}, and load_growth lets seven days hold {growth:g} per cent more than those."
        )


def _plateaus(plan: Plan, planner: Planner) -> Iterator[str]:
    """What to change where the tempo of a drill has stopped leading on; each once."""
    told: dict[str, None] = {}
    for item in (planned.item for planned in plan.items):
        climbing = planner.climbing(item, plan.day)
        if climbing is not None and climbing.plateau:
            where = ", ".join(filter(None, (item.drill.name, planner.group(item))))
            told[f"A plateau, {where}: {climbing.plateau_words}."] = None
    yield from told


def _rest(plan: Plan) -> Iterator[str]:
    """Where there is a rest."""
    for planned in plan.items:
        if planned.rest_before.exact:
            rest = float(planned.rest_before) / 60
            yield f"Rest before item {planned.number}: {rest:g} minute{'' if rest == 1 else 's'}, instrument down."


def _drones(plan: Plan) -> Iterator[str]:
    """The drones whose task has no place in a drill, and those that are as soft as they get; each once."""
    told: dict[str, None] = {}
    for item in (planned.item for planned in plan.items):
        drone = item.drone
        if (bars := item.fewest_bars) < drone.bars_needed:
            told[f"{drone.name} needs {drone.bars_needed} bars; {item.drill.name} has {bars}: the drone sounds on."] = (
                None
            )
        if 0 < drone.softer_over <= plan.sessions_before:
            counted = f"{drone.softer_over} sessions lie behind, counted by what is written down, or from begins"
            told[f"{drone.name} is as soft as it gets: {counted}."] = None
    yield from told


def _silent(plan: Plan, session: Session) -> Iterator[str]:
    """The drills in whose tracks nothing sounds, each once: every part that they have is switched off."""
    told: dict[str, None] = {}
    for item in (planned.item for planned in plan.items):
        if _is_silent(item, session):
            part = "the drone" if sounds_alone(item) else "a part"
            guide = "" if sounds_alone(item) else ", or write guide = true in its block"
            missing = "no drone, no chords, no click, no guide"
            told[f"Nothing sounds in {item.drill.name}: {missing}. Switch {part} on under [sound]{guide}."] = None
    yield from told


def _is_silent(item: Item, session: Session) -> bool:
    """Whether nothing of an item is heard, not even a count-in."""
    parts, counted = session.sound, item.block.count_in_bars or not item.click.silent
    asked = item.block.listen_first or item.block.guide
    has_guide = asked or (parts.guide.on and item.block.guide is None and not sounds_alone(item))
    heard = (
        parts.drone.on and item.drone.degrees,
        parts.click.on and counted,
        parts.changes.on and item.changes.kind != NO_CHORDS and not sounds_alone(item),
        has_guide,
    )
    return not any(heard)


def _alone(plan: Plan, session: Session) -> Iterator[str]:
    """The chords and guides that a drill or the session brings along and that a task keeps silent; each once."""
    told: dict[str, None] = {}
    for item in (planned.item for planned in plan.items):
        has_chords = session.sound.changes.on and item.changes.kind != NO_CHORDS
        has_guide = session.sound.guide.on and item.block.guide is None
        if sounds_alone(item) and (has_chords or has_guide):
            parts = " and ".join(("no chords",) * has_chords + ("no guide",) * has_guide)
            reason = f"{'they' if has_chords else 'it'} would {forbidden(item) or unwanted(item)}"
            told[f"{item.drill.name} has {parts} today: {reason}."] = None
    yield from told


def _asked_for(plan: Plan, session: Session) -> Iterator[str]:
    """The chords and guides that a block asks for though its drone would rather be alone; each once."""
    told: dict[str, None] = {}
    for item in (planned.item for planned in plan.items):
        asks_chords = item.block.changes is not None and item.changes.kind != NO_CHORDS and session.sound.changes.on
        asks_guide = bool(item.block.guide or item.block.listen_first)
        if unwanted(item) and not forbidden(item) and (asks_chords or asks_guide):
            parts = " and ".join(("chords",) * asks_chords + ("a guide",) * asks_guide)
            they, them = ("they", "them") if asks_chords else ("it", "it")
            asked = f"as its block asks for {them}: {they} will {unwanted(item)}"
            told[f"{item.drill.name} has {parts}, {asked}."] = None
    yield from told


def short_day(plan: Plan, planner: Planner) -> Iterator[str]:
    """What becomes of the keys that a day has no time for."""
    played = len({planned.place for planned in plan.items if planned.place is not None})
    if 0 < played < plan.keys_asked:
        calendar = planner.session.rotation.by_calendar
        later = "come in a later cycle" if calendar else "are the next day's first"
        shared = "" if calendar else _shared(plan)
        yield f"This day has time for {played} of its {plan.keys_asked} keys{shared}; the others {later}."


def _shared(plan: Plan) -> str:
    """What every key brings its share of: a further one might fit by itself, but not with that."""
    drills = dict.fromkeys(planned.item.drill.name for planned in plan.items if planned.cut_short)
    return f", each with its share of {' and '.join(drills)}" if drills else ""


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
    shares = any(planned.cut_short and planned.item.block.minutes is None for planned in plan.items)
    if not following or shares or plan.left_out or plan.moves_on < plan.keys_asked:
        return
    a_key = sum(float(seconds) for seconds in following) / plan.moves_on
    left = float(plan.budget) - float(plan.seconds)
    more = min(int(left / a_key), len(planner.session.rotation.keys) - plan.keys_asked)
    if more > 0:
        keys = "one more key" if more == 1 else f"{more} more keys"
        yield f"There is time for {keys} a day: keys_per_day is {plan.keys_asked}."


def _going_on(plan: Plan, planner: Planner) -> Iterator[str]:
    """What moves the rotation and the ladders on, where nothing is written down yet."""
    if not planner.kept and any(planned.item.block.ladder for planned in plan.items):
        yield "Ladders climb by what you write down: droner log."
    if plan.moves_on and not planner.kept and not planner.session.rotation.by_calendar:
        done = plan.first_place + plan.moves_on
        yield f"When all of it is done, write it down with droner log, or write done = {done} under [rotation]."
