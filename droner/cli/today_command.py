"""`droner today`: the day's plan, with the reason for each item."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import click

from droner.cli.day import Day, open_day
from droner.cli.options import day_options, json_option, session_argument, tuning_options
from droner.cli.table import minutes_seconds, table
from droner.practice.reasons import reasons
from droner.score.words import manner_words, shown_bpm

if TYPE_CHECKING:
    from pathlib import Path

    from droner.practice.item import Item
    from droner.practice.plan import PlannedItem

PLAIN = "plain"


@click.command("today")
@session_argument
@day_options
@tuning_options
@json_option
def command(session: Path | None, *, as_json: bool, **options: Any) -> None:
    """Show the day's plan: what to play, in which key, how, at what tempo, for how long, and why."""
    day = open_day(session, **options)
    click.echo(json.dumps(plan_data(day), indent=2, ensure_ascii=False) if as_json else _page(day))


def plan_data(day: Day) -> dict[str, Any]:
    """The plan as data."""
    plan = day.plan
    return {
        "title": day.session.title,
        "date": plan.day.isoformat(),
        "instrument": day.session.instrument.name,
        "level": day.session.level,
        "a4_hz": day.session.tuning.a4_hz,
        "temperament": day.session.tuning.temperament,
        "minutes": float(day.session.minutes),
        "seconds": float(plan.seconds),
        "rotation": {
            "place": plan.first_place,
            "moves_on": plan.moves_on,
            "cycle": day.planner.rotation.cycle,
        },
        "items": [_item_data(planned, day) for planned in plan.items],
        "left_out": [{"drill": gone.drill, "why": gone.why} for gone in plan.left_out],
    }


def _item_data(planned: PlannedItem, day: Day) -> dict[str, Any]:
    item = planned.item
    return {
        "number": planned.number,
        "drill": item.drill.name,
        "staple": item.drill.staple.value,
        "key": str(item.key) if item.key else None,
        "variant": item.variant.number if item.variant else None,
        "manner": list(manner_words(item)),
        "tempo_bpm": float(item.bpm),
        "speeds_per_cent": [float(speed) for speed in item.block.speeds],
        "meter": str(item.meter),
        "drone": item.drone.name,
        "changes": item.changes.name,
        "click": item.click.name,
        "seconds": float(item.seconds),
        "place": planned.place,
        "why": list(reasons(planned, day.planner)),
    }


def _page(day: Day) -> str:
    plan, session = day.plan, day.session
    spent = minutes_seconds(float(plan.seconds))
    head = f"{session.title}: {plan.day:%A %d %B %Y}"
    tuning = f"A4 = {session.tuning.a4_hz:g} Hz, {session.tuning.temperament}"
    lines = [
        head,
        f"{session.instrument.name}, {session.level}; {tuning}; {spent} of {float(session.minutes):g} minutes",
        "",
        table([_row(planned) for planned in plan.items], ("", "time", "drill", "key", "how", "tempo"), right=(0, 1, 5)),
        "",
        *_grounds(day),
        *_why(day),
        *(f"Left out: {gone.drill}: {gone.why}." for gone in plan.left_out),
        *_cautions(day),
    ]
    return "\n".join(lines)


def _row(planned: PlannedItem) -> tuple[str, ...]:
    item = planned.item
    how = ", ".join(manner_words(item)) or PLAIN
    return (
        str(planned.number),
        minutes_seconds(float(item.seconds)),
        item.drill.name,
        str(item.key) if item.key else "",
        how,
        _tempo(item),
    )


def _tempo(item: Item) -> str:
    if len(item.block.speeds) == 1 and not item.block.glide:
        return shown_bpm(item.bpm * item.block.speeds[0] / 100)
    speeds = item.block.glide or item.block.speeds
    return " ".join(shown_bpm(item.bpm * speed / 100) for speed in speeds)


def _grounds(day: Day) -> list[str]:
    """What sounds under each drill, said once a drill."""
    seen = {planned.item.block.number: planned.item for planned in day.plan.items}
    return [
        f"Under {item.drill.name}: drone {item.drone.name}; chords {item.changes.name}; click {_click(item)}."
        for item in seen.values()
    ]


def _click(item: Item) -> str:
    return "as the variant says" if item.variant and not item.block.click else item.click.name


def _why(day: Day) -> list[str]:
    """The reasons, once for each block: the first item's stand for its neighbours."""
    seen: dict[int, PlannedItem] = {}
    for planned in day.plan.items:
        seen.setdefault(planned.item.block.number, planned)
    return ["", *(f"{one.number}. {'; '.join(reasons(one, day.planner))}." for one in seen.values())]


def _cautions(day: Day) -> list[str]:
    cautions = dict.fromkeys(planned.item.drill.caution for planned in day.plan.items if planned.item.drill.caution)
    return ["", *cautions, "Not medical advice: see a clinician for pain, numbness or ringing."] if cautions else []
