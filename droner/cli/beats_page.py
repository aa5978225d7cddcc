"""Lay the beats of notes against a drone out, as a page and as data.

Units   hertz; beats a second; cents.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from droner.cli.table import table
from droner.theory.pitch import OCTAVE, Interval

if TYPE_CHECKING:
    from collections.abc import Sequence

    from droner.theory.beats import DegreeBeats
    from droner.theory.pitch import Pitch
    from droner.theory.tuning import Tuning

DEGREES = tuple(
    Interval(steps, semitones)
    for steps, semitones in (
        (0, 0), (1, 1), (1, 2), (2, 3), (2, 4), (3, 5), (3, 6), (4, 7), (5, 8), (5, 9), (6, 10), (6, 11), (7, 12),
    )
)  # fmt: skip
OCTAVES_ABOVE = (0, 2)
COLUMNS = (
    ("note", "your note"),
    ("pure", "its ratio to the drone when nothing beats any more"),
    ("partials", "the drone's partial and yours that meet there"),
    ("cents", "where the pure note lies, seen from a tuner's zero (equal temperament)"),
    ("if equal", "beats a second if you stay where the tuner shows zero"),
    ("sounds", "what these beats are to the ear"),
    ("a cent", "beats a second for each cent that you are off"),
    ("as tuned", "beats a second if you play the note of this temperament"),
    ("best drone", "the drone in the octave where your beats can best be counted"),
    ("difference", "the tone that both make together, upper less lower, in hertz"),
)
"""Heads, and what stands under them."""
AS_TUNED = "as tuned"
WORDS = frozenset({"note", "sounds", "best drone"})


def degrees(drone: Pitch) -> tuple[Pitch, ...]:
    """Every degree in the octave above a drone, and two octaves higher."""
    return tuple(drone + OCTAVE * octaves + degree for octaves in OCTAVES_ABOVE for degree in DEGREES)


def page(drone: Pitch, tuned: Tuning, rows: Sequence[DegreeBeats]) -> str:
    """The table, and under it what its columns say. A column says how the temperament beats, where it does."""
    shown = [(head, about) for head, about in COLUMNS if head != AS_TUNED or tuned.temperament.name != "just"]
    heads = [head for head, _ in shown]
    right = {column for column, head in enumerate(heads) if head not in WORDS}
    cells = [[_cell(row, head) for head in heads] for row in rows]
    first = f"Drone {drone}: {tuned.hz(drone):.2f} Hz (A4 = {tuned.a4_hz:g} Hz, {tuned.temperament.name} tuning)"
    return "\n\n".join((first, table(cells, heads, right), table(shown)))


def _cell(row: DegreeBeats, head: str) -> str:
    best = row.best_drone_octave
    cells = {
        "note": str(row.note),
        "pure": str(row.ratio),
        "partials": f"{row.drone_partial}:{row.player_partial}",
        "cents": f"{row.target_cents:+.1f}",
        "if equal": f"{abs(row.equal_beat_hz):.2f}",
        "sounds": row.heard_as,
        "a cent": f"{row.beat_hz_per_cent:.3f}",
        AS_TUNED: f"{abs(row.tuned_beat_hz):.2f}",
        "best drone": f"{row.drone.name}{best}" if best is not None else "none",
        "difference": f"{row.difference_hz:.1f}",
    }
    return cells[head]


def beats_data(row: DegreeBeats) -> dict[str, Any]:
    """One row as data."""
    return {
        "drone": str(row.drone),
        "note": str(row.note),
        "drone_hz": row.drone_hz,
        "target_hz": row.target_hz,
        "ratio": str(row.ratio),
        "target_cents": row.target_cents,
        "drone_partial": row.drone_partial,
        "player_partial": row.player_partial,
        "beats_if_equal": row.equal_beat_hz,
        "beats_as_tuned": row.tuned_beat_hz,
        "beats_a_cent": row.beat_hz_per_cent,
        "heard_as": row.heard_as,
        "best_drone_octave": row.best_drone_octave,
        "difference_hz": row.difference_hz,
    }
