"""Give the day's plan as data for programs.

Rule    names of keys stay what they are; new ones may be added. What does not apply is null.
Units   seconds; tempos in the meter's beats a minute; speeds in per cent of the tempo; places from 0,
        phrases from 1.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from droner.practice.reasons import reasons
from droner.practice.remarks import remarks
from droner.score.words import manner_words

if TYPE_CHECKING:
    from droner.cli.day import Day
    from droner.practice.plan import PlannedItem


def plan_data(day: Day) -> dict[str, Any]:
    """The whole plan."""
    plan, session = day.plan, day.session
    return {
        "session": session.file,
        "title": session.title,
        "date": plan.day.isoformat(),
        "instrument": session.instrument.name,
        "level": session.level,
        "a4_hz": session.tuning.a4_hz,
        "temperament": session.tuning.temperament,
        "minutes": float(session.minutes),
        "seconds": float(plan.seconds),
        "seed": session.seed,
        "rotation": {
            "place": plan.first_place,
            "moves_on": plan.moves_on,
            "cycle": day.planner.rotation.cycle,
        },
        "items": [item_data(planned, day) for planned in plan.items],
        "left_out": [{"drill": gone.drill, "why": gone.why} for gone in plan.left_out],
        "remarks": list(remarks(plan, day.planner)),
        "cautions": list(dict.fromkeys(one.item.drill.caution for one in plan.items if one.item.drill.caution)),
    }


def item_data(planned: PlannedItem, day: Day) -> dict[str, Any]:
    """One item."""
    item = planned.item
    portion = item.portion
    return {
        "number": planned.number,
        "block": item.block.number,
        "drill": item.drill.name,
        "staple": item.drill.staple.value,
        "key": str(item.key) if item.key else None,
        "variant": item.variant.number if item.variant else None,
        "manner": list(manner_words(item)),
        "tempo_bpm": float(item.bpm),
        "speeds_per_cent": [float(speed) for speed in item.block.speeds],
        "glide_per_cent": [float(speed) for speed in item.block.glide] if item.block.glide else None,
        "meter": str(item.meter),
        "drone": item.drone.name,
        "changes": item.changes.name,
        "click": item.click.name,
        "seconds": float(item.seconds),
        "place": planned.place,
        "portion": {"first": portion.start + 1, "phrases": portion.count, "of": portion.whole} if portion else None,
        "why": list(reasons(planned, day.planner)),
    }
