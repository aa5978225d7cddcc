"""Sum up a day that was played live: what sounded, how it was marked, how well the machine kept time."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from droner.cli.log_page import entry_data
from droner.cli.log_tempos import played_with
from droner.cli.play_board import name_of
from droner.cli.screen import show, show_json
from droner.cli.table import table
from droner.score.words import shown_bpm

if TYPE_CHECKING:
    from collections.abc import Sequence

    from droner.cli.day import Day
    from droner.cli.play_making import Made
    from droner.cli.play_output import Output
    from droner.practice.logbook.entry import Entry

HEADS = ("", "item", "tempo", "clean")
RIGHT = frozenset({0, 2, 3})


def show_day(
    day: Day, played: Sequence[Made], entries: Sequence[Entry], output: Output, *, as_json: bool, wide: int
) -> None:
    """Print it."""
    if as_json:
        show_json(_data(day, played, entries, output))
    else:
        rows = [_row(made, _of(made, entries)) for made in played]
        show("\n".join((table(rows, HEADS, RIGHT, page=wide), "", output.timing_words)))


def _row(made: Made, entries: Sequence[Entry]) -> tuple[str, str, str, str]:
    item = made.planned.item
    clean = f"{sum(entry.clean for entry in entries)}/{sum(entry.total for entry in entries)}" if entries else ""
    return str(made.planned.number), name_of(item), shown_bpm(item.bpm), clean


def _of(made: Made, entries: Sequence[Entry]) -> list[Entry]:
    """The marks of an item as it was played last: in its key, its variant, its tempo or another."""
    item = made.planned.item
    mine = (item.drill.name, str(item.key) if item.key else "", item.variant.number if item.variant else 0)
    return [entry for entry in entries if (entry.drill, entry.key, entry.variant) == mine]


def _data(day: Day, played: Sequence[Made], entries: Sequence[Entry], output: Output) -> dict[str, Any]:
    return {
        "played": [
            {
                "number": made.planned.number,
                "drill": made.planned.item.drill.name,
                "key": str(made.planned.item.key) if made.planned.item.key else None,
                "tempo_bpm": float(made.planned.item.bpm),
            }
            for made in played
        ],
        "marks": [entry_data(entry, played_with(entry, day.session, day.patterns)) for entry in entries],
        "timing": output.timing,
    }
