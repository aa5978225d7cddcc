"""`droner rotation`: which keys and variants fall when, and the proof that none is left out."""

from __future__ import annotations

import json
from datetime import timedelta
from typing import TYPE_CHECKING, Any

import click

from droner.cli.day import Day, open_day
from droner.cli.options import day_options, json_option, session_argument
from droner.cli.table import table
from droner.practice.rotation import proof

if TYPE_CHECKING:
    from pathlib import Path

DAYS_SHOWN = 7


@click.command("rotation", epilog="\b\nExamples:\n  droner rotation\n  droner rotation --days 60")
@session_argument
@day_options
@click.option("--days", type=click.IntRange(1, 3660), default=DAYS_SHOWN, show_default=True, help="Days to show.")
@json_option
def command(session: Path | None, *, days: int, as_json: bool, **options: Any) -> None:
    """Show the coming days of the rotation, how much of the cycle is done, and the proof that it is complete."""
    day = open_day(session, **options)
    click.echo(json.dumps(_data(day, days), indent=2, ensure_ascii=False) if as_json else _page(day, days))


def _turns(day: Day, days: int) -> list[tuple[str, list[tuple[str, int]]]]:
    """Each day's keys with the number of their variant, if every day plays as many keys as today."""
    per_day, turns = day.session.rotation.keys_per_day, []
    for ahead in range(days):
        first = day.plan.first_place + ahead * per_day
        pairs = [day.planner.pair(first + step) for step in range(per_day)]
        when = day.plan.day + timedelta(days=ahead)
        turns.append((when.isoformat(), [(str(key), variant.number if variant else 0) for key, variant in pairs]))
    return turns


def _data(day: Day, days: int) -> dict[str, Any]:
    counted = proof(day.planner.rotation)
    return {
        "keys": [str(key) for key in day.session.rotation.keys],
        "variants": len(day.planner.variants),
        "cycle": counted.cycle,
        "place": day.plan.first_place,
        "days_to_complete": _days_left(day),
        "proof": {"different_pairs": counted.different, "full_laps": counted.full_laps, "holds": counted.holds},
        "rule": day.planner.rotation.rule,
        "days": [
            {"date": when, "items": [{"key": key, "variant": variant} for key, variant in turns]}
            for when, turns in _turns(day, days)
        ],
    }


def _days_left(day: Day) -> int:
    return day.planner.rotation.days_to_complete(day.plan.first_place, day.session.rotation.keys_per_day)


def _page(day: Day, days: int) -> str:
    cycle, place = day.planner.rotation.cycle, day.plan.first_place
    moves = "by the calendar" if day.session.rotation.by_calendar else "when done"
    rows = [(when, *(_turn(*turn) for turn in turns)) for when, turns in _turns(day, days)]
    variants = sorted({variant.number: variant for variant in day.planner.variants if variant}.items())
    return "\n".join(
        (
            f"{len(day.session.rotation.keys)} keys, {len(day.planner.variants)} variants; moves {moves}.",
            _standing(place, cycle, day),
            "",
            table(rows),
            "",
            *_legend(day, days, dict(variants)),
            proof(day.planner.rotation).text,
            day.planner.rotation.rule,
        )
    )


def _standing(place: int, cycle: int, day: Day) -> str:
    done = f"Cycle {place // cycle + 1}: {place % cycle} of {cycle} turns lie behind"
    return f"{done}, {_days_left(day)} days ahead at {day.session.rotation.keys_per_day} keys a day."


def _turn(key: str, variant: int) -> str:
    return f"{key} ({variant})" if variant else key


def _legend(day: Day, days: int, variants: dict[int, Any]) -> list[str]:
    """What the numbers of today's variants stand for."""
    shown = dict.fromkeys(number for _, turns in _turns(day, min(days, 1)) for _, number in turns if number)
    rows = [(str(number), variants[number].words) for number in shown]
    return ["The first day's variants:", table(rows, right=(0,)), ""] if rows else []
