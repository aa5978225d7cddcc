"""Lay a drill out as a player would ask for it, and show the line as a player would write it down."""

from __future__ import annotations

from functools import lru_cache

from droner.practice.layout.lay_out import Ground, lay_out
from droner.practice.layout.line import DoesNotFit, Line
from droner.practice.pattern import Patterns
from droner.practice.reading.files import file_text, load_patterns, patterns_folder
from droner.practice.reading.pattern_reading import read_patterns
from droner.theory.instrument import Range, instrument
from droner.theory.key import key as read_key
from droner.theory.pitch import pitch

FLUTE = "C4 D7"
"""The advanced compass of a flute with a C foot."""


@lru_cache(maxsize=64)
def patterns(own: str = "") -> Patterns:
    """Droner's patterns, and the player's own in the text of a pattern file."""
    if not own:
        return load_patterns()
    ours = [(path.name, file_text(path)) for path in sorted(patterns_folder().glob("*.toml"))]
    return read_patterns([*ours, ("own.toml", own)])


def compass_of(text: str) -> Range:
    """A compass as a session names it: "C4 D7"."""
    low, high = text.split()
    return Range(pitch(low), pitch(high))


def laid(
    drill: str,
    key: str = "",
    compass: str = FLUTE,
    *,
    turn: str = "low tonic",
    on: str = "flute",
    own: str = "",
) -> Line | DoesNotFit:
    """The line of a drill, or why there is none."""
    ground = Ground(read_key(key) if key else None, compass_of(compass), instrument(on), turn)
    return lay_out(patterns(own).drills[drill], ground)


def line(
    drill: str,
    key: str = "",
    compass: str = FLUTE,
    *,
    turn: str = "low tonic",
    on: str = "flute",
    own: str = "",
) -> Line:
    """The line of a drill that fits."""
    found = laid(drill, key, compass, turn=turn, on=on, own=own)
    assert isinstance(found, Line), str(found)
    return found


def cells(found: Line) -> list[str]:
    """The cells of a line, each as its pitches."""
    rows: dict[int, list[str]] = {}
    for note in found.notes:
        rows.setdefault(note.cell, []).append(str(note.pitch))
    return [" ".join(row) for row in rows.values()]


def written(text: str) -> list[str]:
    """Cells as a player writes them, between bars: "C4 E4 | D4 F4"."""
    return [" ".join(cell.split()) for cell in text.split("|")]


def stream(found: Line) -> str:
    """The pitches of a line in a row."""
    return " ".join(str(note.pitch) for note in found.notes)
