"""Give the day's plan as data for programs.

Rule    names of keys stay what they are; new ones may be added. What does not apply is null.
Units   seconds; tempos in the meter's beats a minute; speeds in per cent of the tempo; places from 0,
        phrases from 1.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from droner.cli.logging_day import logged
from droner.practice.alone import sounds_alone
from droner.practice.reasons import reasons
from droner.practice.remarks import remarks
from droner.score.words import manner_words

if TYPE_CHECKING:
    from droner.cli.day import Day
    from droner.practice.ladder.standing import Standing
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
        "shrunk": plan.allotted.shrunk,
        "interleaved": session.interleaved,
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


def ladder_data(standing: Standing | None) -> dict[str, Any] | None:
    """Where a ladder stands: the rung, counted from 1, and how many there are."""
    if standing is None:
        return None
    return {
        "tempo_bpm": float(standing.rung.bpm),
        "step": standing.rung.step or None,
        "rung": standing.place + 1,
        "of": standing.of,
        "reached": standing.reached,
        "plateau": standing.plateau,
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
        "speeds_per_cent": [float(speed) for speed in item.speeds],
        "glide_per_cent": [float(speed) for speed in item.block.glide] if item.block.glide else None,
        "meter": str(item.meter),
        "drone": item.drone.name,
        "changes": "none" if sounds_alone(item) else item.changes.name,
        "click": item.click.name,
        "seconds": float(item.seconds),
        "place": planned.place,
        "again": bool(planned.again),
        "logged": [{"clean": entry.clean, "total": entry.total} for entry in logged(planned, day)],
        "rest_before_seconds": float(planned.rest_before),
        "ladder": ladder_data(day.planner.climbing(item, day.plan.day)),
        "portion": {"first": portion.start + 1, "phrases": portion.count, "of": portion.whole} if portion else None,
        "why": list(reasons(planned, day.planner, day.plan.day)),
    }
