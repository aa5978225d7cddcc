"""`droner log`: write down how the day went."""

from __future__ import annotations

from typing import Any

import click

from droner.cli.options import completing, day_options, json_option, quiet_option
from droner.cli.values import number, path, whole

MOST_SHOWN = 1_000_000
JUDGES = ("by ear", "by pedal", "by listening")


@click.command(
    "log",
    epilog="""\b
Examples:
  droner log 2 4/5                     item 2 of today's plan: 4 of 5 runs clean
  droner log 2 4/5 3 3/3 4-13 1/1      several at once
  droner log 4 2/3 --tempo 56 --note "thumb late"
  droner log --last 10                 what was written down last
  droner log --export all.csv          everything, as CSV; or .jsonl
""",
)
@click.argument("words", nargs=-1, metavar="[SESSION] [ITEM CLEAN/TOTAL]...", shell_complete=completing("files"))
@day_options
@click.option(
    "--tempo",
    "bpm",
    type=number(5, 1000),
    metavar="BPM",
    help="The tempo it was played at, if another than planned.",
)
@click.option("--spent", "spent", type=number(0, 1440), metavar="N", help="Minutes it took, if others than planned.")
@click.option("--note", default="", metavar="TEXT", help="A note.")
@click.option("--judged", type=click.Choice(JUDGES), help="How it was judged.  [default: by ear]")
@click.option("--correct", metavar="NAME", help="Correct an entry: its name, or the beginning of it.")
@click.option("--take-back", metavar="NAME", help="Take an entry back.")
@click.option("--last", type=whole(1, MOST_SHOWN), metavar="N", help="Show the last N entries.")
@click.option("--export", "export_to", type=path, metavar="FILE", help="Write all entries to FILE.csv or FILE.jsonl.")
@click.option("--import", "import_from", type=path, metavar="FILE", help="Take in the entries of such a file.")
@json_option
@quiet_option
def command(words: tuple[str, ...], **options: Any) -> None:
    """Write down how the items of a day went: clean runs of all runs. Without items: in talk, item by item.

    A session file may stand first. Nothing is ever changed in the logbook: a correction (--correct NAME 3/5) is a
    new entry that stands for the old one.

    Tempos are told and shown as played. Where a dense rhythm slowed the beat, the tempo on the ladder stands beside;
    in exported files "bpm" is that one. In CSV "counts" says whether an entry was neither corrected nor taken back.
    """
    from droner.cli.log_wanted import Wanted  # noqa: PLC0415 - help writes nothing down
    from droner.cli.log_work import work  # noqa: PLC0415

    work(Wanted(words, **options))
