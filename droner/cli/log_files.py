"""Write a logbook out and take one in: JSON Lines or CSV, by the ending of the file's name.

Rule    lossless both ways. The file that is written appears whole or not at all; what is read is kept whole or not at
        all, and what the logbook has already is not kept twice. What only follows from the rest is passed over.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from droner.practice.logbook.lines import COUNTS, from_csv, from_json_lines, to_csv, to_json_lines
from droner.practice.reading.files import file_text
from droner.whole_file import whole_file

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from droner.practice.logbook.entry import Entry

WRITERS = {".jsonl": to_json_lines, ".csv": to_csv}
LARGEST = 1_000_000_000
"""Bytes: out of reach of any logbook that is kept in a life."""
READERS = {".jsonl": from_json_lines, ".csv": from_csv}


def write_entries(file: Path, entries: Sequence[Entry]) -> int:
    """Write entries to a file; how many there were."""
    lines = WRITERS[ending_of(file)](entries)
    with whole_file(file) as goal:
        for line in lines:
            goal.write(line.encode())
    return len(entries)


def read_entries(file: Path) -> tuple[tuple[Entry, ...], str]:
    """The entries in a file, and the column in it that was passed over. MistakesFound with every mistake in it."""
    ending, text = ending_of(file), file_text(file, largest=LARGEST)
    passed_over = COUNTS if ending == ".csv" and COUNTS in text.partition("\n")[0] else ""
    return READERS[ending](text, str(file)), passed_over


def ending_of(file: Path) -> str:
    """The ending that says in which form. UsageError for another."""
    ending = file.suffix.lower()
    if ending not in WRITERS:
        raise click.UsageError(f"{file}: the ending says in which form: {' or '.join(WRITERS)}.")
    return ending
