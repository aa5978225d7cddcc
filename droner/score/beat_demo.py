"""Let beats be heard: a still drone, and against it a note in tune, then a little flat, then a little sharp.

Rule    the drone sounds throughout and is alone before every note, so that each begins against a known tone. A note
        is held long enough for a few of its beats, within reason. Both tones have the same partials; the louder of
        the two that meet is softened towards the other, since beats are deepest between equals.
Units   one quarter a second; cents off the pure note, negative flat; decibels; beats a second.
Source  equal amplitudes beat to silence and back: superposition. Few ears hear above 16 kHz: common practice, no
        source.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING

from droner.score.plain import drone_score
from droner.score.score import Cue, Marker, Tone
from droner.theory.cents import factor_of
from droner.units import Beats

if TYPE_CHECKING:
    from droner.score.score import Score
    from droner.theory.beats import DegreeBeats
    from droner.theory.tuning import Tuning

OFF_CENTS = 5
STEPS = ((0, "in tune"), (-OFF_CENTS, f"{OFF_CENTS} cents flat"), (OFF_CENTS, f"{OFF_CENTS} cents sharp"))
ALONE_SECONDS = 1
BEATS_TO_HEAR = 3
SHORTEST_SECONDS, LONGEST_SECONDS = 4, 10
MOST_SOFTENED_DB = 12.0
"""More would lose the softer tone itself."""
HIGHEST_HEARD_HZ = 16_000.0


def beat_demo(row: DegreeBeats, tuned: Tuning, partials_db: tuple[float, ...]) -> Score:
    """The note against the drone at every step; `partials_db` are those that the tones will sound with."""
    held = held_seconds(row)
    onsets = [ALONE_SECONDS + place * (held + ALONE_SECONDS) for place in range(len(STEPS))]
    still = drone_score((row.drone,), tuned, Fraction(onsets[-1] + held))
    drone_db, note_db = _softened_db(row, partials_db)
    notes = (
        Tone(Beats(onset), Beats(held), row.note, row.target_hz * factor_of(cents), note_db)
        for onset, (cents, _) in zip(onsets, STEPS, strict=True)
    )
    named = [(Beats(onset), words) for onset, (_, words) in zip(onsets, STEPS, strict=True)]
    return replace(
        still,
        title=pair_name(row),
        drone=(*(replace(tone, gain_db=drone_db) for tone in still.drone), *notes),
        markers=tuple(Marker(onset, words) for onset, words in named),
        cues=tuple(Cue(onset, words, words) for onset, words in named),
    )


def pair_name(row: DegreeBeats) -> str:
    """What sounds: "F#4 over D3"."""
    place = "over" if row.note.midi > row.drone.midi else "under" if row.note.midi < row.drone.midi else "with"
    return f"{row.note} {place} {row.drone}"


def rates(row: DegreeBeats) -> tuple[float, ...]:
    """Beats a second at every step."""
    return tuple(abs(row.beat_hz_at(cents)) if cents else abs(row.target_beat_hz) for cents, _ in STEPS)


def can_beat(row: DegreeBeats, partials_db: tuple[float, ...]) -> bool:
    """Whether both tones have the partials that meet, and not too high for an ear."""
    there = max(row.drone_partial, row.player_partial) <= len(partials_db)
    return there and row.drone_partial * row.drone_hz <= HIGHEST_HEARD_HZ


def held_seconds(row: DegreeBeats) -> int:
    """How long each note is held."""
    slowest = min(rates(row)[1:])
    return max(SHORTEST_SECONDS, min(ceil(BEATS_TO_HEAR / slowest), LONGEST_SECONDS))


def _softened_db(row: DegreeBeats, partials_db: tuple[float, ...]) -> tuple[float, float]:
    """How much softer the drone and the note are played, so that the partials that meet are alike."""
    if not can_beat(row, partials_db):
        return 0.0, 0.0
    louder = partials_db[row.player_partial - 1] - partials_db[row.drone_partial - 1]
    return max(min(louder, 0.0), -MOST_SOFTENED_DB), max(min(-louder, 0.0), -MOST_SOFTENED_DB)
