"""Lay the beats of notes against a drone out, as a page and as data.

Rule    cents are those that a tuner shows: a drone that a temperament moves off the tuner's zero takes its pure notes
        with it. What partials beyond the clear ones do is called faint, however fast it is.
Units   hertz; beats a second; cents.
Source  a difference tone below 20 Hz is not heard as a tone: common practice, no source.
"""

from __future__ import annotations

from math import log2
from typing import TYPE_CHECKING, Any

from droner.cli.table import table, wrapped
from droner.theory.cents import cents_between
from droner.theory.pitch import NATURAL_SEMITONES, OCTAVE, SIGNS, Interval, Pitch

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from droner.theory.beats import DegreeBeats
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
    ("degree", "where it stands above the drone, as in a major key: b3 is the minor third"),
    ("pure", "its ratio to the drone when nothing beats any more"),
    ("partials", "the drone's partial and yours that meet there"),
    ("cents", "what a tuner shows when the note is pure"),
    ("if equal", "beats a second if you stay where the tuner shows zero (equal temperament)"),
    ("sounds", "what these beats are to the ear; faint: partials so high hardly sound"),
    ("a cent", "beats a second for each cent that you are off"),
    ("as tuned", "beats a second if you play the note of this temperament"),
    ("drone at", "the drone in the octave where your beats can best be counted"),
    ("difference", "the tone that both make together, upper less lower, in hertz, and the note nearest to it"),
)
"""Heads, and what stands under them."""
AS_TUNED = "as tuned"
WORDS = frozenset({"note", "degree", "sounds", "drone at", "difference"})
LOWEST_TONE_HZ = 20.0
ON_ZERO_CENTS = 0.05
"""What is nearer to a tuner's zero is shown as zero."""


def degrees(drone: Pitch) -> tuple[Pitch, ...]:
    """Every degree in the octave above a drone, and two octaves higher."""
    return tuple(drone + OCTAVE * octaves + degree for octaves in OCTAVES_ABOVE for degree in DEGREES)


def page(drone: Pitch, tuned: Tuning, rows: Sequence[DegreeBeats], wide: int) -> str:
    """The table, and under it what its columns say. A column says how the temperament beats, where it does."""
    shown = [(head, about) for head, about in COLUMNS if head != AS_TUNED or tuned.temperament.name != "just"]
    heads = [head for head, _ in shown]
    right = {column for column, head in enumerate(heads) if head not in WORDS}
    cells = [[_cell(row, head) for head in heads] for row in rows]
    parts = (
        wrapped(heading(drone, tuned), wide),
        table(list(_by_octave(cells, rows)), heads, right),
        table(shown, page=wide),
    )
    return "\n\n".join(parts)


def heading(drone: Pitch, tuned: Tuning) -> str:
    """The drone, its hertz and its tuning; and what a tuner shows for it, where that is not zero."""
    off = tuned.cents(drone)
    on_tuner = "" if abs(off) < ON_ZERO_CENTS else f", {off:+.1f} cents on a tuner"
    return (
        f"Drone {drone}: {tuned.hz(drone):.2f} Hz{on_tuner} (A4 = {tuned.a4_hz:g} Hz, {tuned.temperament.name} tuning)"
    )


def _by_octave(cells: Sequence[list[str]], rows: Sequence[DegreeBeats]) -> Iterator[list[str]]:
    """An empty line where the degrees begin anew, two octaves higher."""
    for cell, row in zip(cells, rows, strict=True):
        if row.note == row.drone + OCTAVE * OCTAVES_ABOVE[1] and cell is not cells[0] and len(rows) > len(DEGREES):
            yield [""] * len(cell)
        yield cell


def _cell(row: DegreeBeats, head: str) -> str:
    best, met = row.best_drone_octave, difference_note(row)
    cells = {
        "note": str(row.note),
        "degree": degree(row),
        "pure": str(row.ratio),
        "partials": f"{row.drone_partial}:{row.player_partial}",
        "cents": f"{tuner_cents(row):+.1f}",
        "if equal": f"{abs(row.equal_beat_hz):.2f}",
        "sounds": row.heard_as if row.clear else "faint",
        "a cent": f"{row.beat_hz_per_cent:.3f}",
        AS_TUNED: f"{abs(row.tuned_beat_hz):.2f}",
        "drone at": f"{row.drone.name}{best}" if best is not None else "none",
        "difference": f"{row.difference_hz:6.1f}" + (f" {met}" if met else ""),
    }
    return cells[head]


def degree(row: DegreeBeats) -> str:
    """Where the note stands in the octave above the drone, against a major key: "1", "b3", "#4"."""
    within = (row.note - row.drone).within_octave
    alter = within.semitones - NATURAL_SEMITONES[within.steps]
    return f"{SIGNS.get(alter, f'{alter:+d} ')}{within.steps + 1}"


def tuner_cents(row: DegreeBeats) -> float:
    """What a tuner shows when the note is pure."""
    return cents_between(equal_note_hz(row), row.target_hz)


def equal_note_hz(row: DegreeBeats) -> float:
    """The note where a tuner shows zero."""
    return (row.equal_beat_hz + row.drone_partial * row.drone_hz) / row.player_partial


def difference_note(row: DegreeBeats) -> Pitch | None:
    """The note nearest to the difference tone, spelled as a degree of the drone; None where no tone is heard."""
    if row.difference_hz < LOWEST_TONE_HZ:
        return None
    octaves, semitones = divmod(round(12 * log2(row.difference_hz / row.drone_hz)), 12)
    return row.drone + DEGREES[semitones] + OCTAVE * octaves


def beats_data(row: DegreeBeats) -> dict[str, Any]:
    """One row as data."""
    met = difference_note(row)
    return {
        "drone": str(row.drone),
        "note": str(row.note),
        "degree": degree(row),
        "drone_hz": row.drone_hz,
        "target_hz": row.target_hz,
        "ratio": str(row.ratio),
        "target_cents": row.target_cents,
        "tuner_cents": tuner_cents(row),
        "drone_partial": row.drone_partial,
        "player_partial": row.player_partial,
        "clear": row.clear,
        "beats_if_equal": row.equal_beat_hz,
        "beats_as_tuned": row.tuned_beat_hz,
        "beats_a_cent": row.beat_hz_per_cent,
        "heard_as": row.heard_as,
        "best_drone_octave": row.best_drone_octave,
        "difference_hz": row.difference_hz,
        "difference_note": None if met is None else str(met),
    }
