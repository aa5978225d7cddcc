"""Every row of chords that droner's patterns make, composed by a policy, and chords told by five-limit arithmetic.

Rule    "by degree" and "progression" lie under drills of four kinds; "as played" and "written" under every drill that
        brings them. Chords under a held note have no policy and are left out.
Source  pure chords as rows of whole numbers: major 4:5:6, minor 10:12:15, dominant seventh 20:25:30:36, and the others
        built of the same fifths 3:2 and thirds 5:4 and 6:5: five-limit arithmetic.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import log2
from typing import TYPE_CHECKING

from tests.score.composed import composed, manner, patterns

if TYPE_CHECKING:
    from droner.score.score import ChordEvent, Score, Tone

SLACK_CENTS = 1e-6
"""What is left of some roundings of a float."""
KEYS = ("C major", "A minor", "F# minor", "Eb major")
UNDER = ("turning scale", "octave scale", "thirds", "five-note cells")
MOVES_ITS_KEY = "five-note cells"
"""Of those above, the drill in which every cell is in a key of its own, a half-step from the one before."""
PURE: dict[str, tuple[int, ...]] = {
    "": (4, 5, 6),
    "m": (10, 12, 15),
    "dim": (25, 30, 36),
    "aug": (16, 20, 25),
    "7": (20, 25, 30, 36),
    "m7": (10, 12, 15, 18),
    "maj7": (8, 10, 12, 15),
    "m7b5": (25, 30, 36, 45),
    "dim7": (125, 150, 180, 216),
    "m(maj7)": (40, 48, 60, 75),
    "maj7#5": (16, 20, 25, 30),
}
"""Root, third, fifth and seventh by the end of a chord's symbol."""
SYMBOL = re.compile(r"([A-G](?:##|#|x|bb|b)?)(.*)")


@dataclass(frozen=True)
class Row:
    """A row of chords: the changes and the drill that they lie under."""

    changes: str
    drill: str

    @property
    def moves_its_key(self) -> bool:
        return self.drill == MOVES_ITS_KEY

    def __str__(self) -> str:
        return f"{self.changes}, {self.drill}"


def rows_of_chords() -> list[Row]:
    """Every row that the patterns make."""
    found = []
    for name, changes in patterns().changes.items():
        if changes.kind in {"by degree", "progression"}:
            found += [Row(name, drill) for drill in UNDER]
        if changes.kind in {"as played", "written"}:
            found += [Row(name, drill.name) for drill in patterns().drills.values() if drill.changes == name]
    return found


@lru_cache(maxsize=256)
def sounding(row: Row, key: str, policy: str, drone: str = "tonic") -> Score:
    """A row in a key by a policy, in just tuning."""
    block = f'drill = "{row.drill}"\nchanges = "{row.changes}"\ntempo = 90\ndrone = "{drone}"'
    return composed(block, key=key, played=manner("one a beat"), top=f'[tuning]\nchords = "{policy}"').score


def root_and_kind(chord: ChordEvent) -> tuple[str, str]:
    """The root's name and the kind of chord, from its symbol."""
    found = SYMBOL.fullmatch(chord.symbol)
    assert found, chord.symbol
    return found[1], found[2]


def upwards(chord: ChordEvent) -> list[Tone]:
    """The tones of a chord from the root up in thirds."""
    root, _ = root_and_kind(chord)
    first = next(tone for tone in chord.tones if str(tone.pitch.name) == root)
    return sorted(chord.tones, key=lambda tone: (tone.pitch.name.step - first.pitch.name.step) % 7)


def pure_cents(chord: ChordEvent) -> list[float]:
    """How far each tone of a chord lies above its root when it is pure, within the octave."""
    numbers = PURE[root_and_kind(chord)[1]]
    return [1200 * log2(number / numbers[0]) % 1200 for number in numbers]


def octave_cents(apart: float) -> float:
    """A difference in cents without its octaves: from -600 up to 600."""
    return (apart + 600) % 1200 - 600


def by_name(chord: ChordEvent) -> dict[str, float]:
    """The hertz of each pitch."""
    return {str(tone.pitch): tone.hz for tone in chord.tones}


def neighbours(score: Score) -> list[tuple[ChordEvent, ChordEvent]]:
    """Each chord with the next, where no silence lies between."""
    return [(old, new) for old, new in pairwise(score.changes) if old.onset + old.length == new.onset]


def within(cents_apart: float, limit: float = SLACK_CENTS) -> bool:
    """Whether two places are one, whatever the octave."""
    return abs(octave_cents(cents_apart)) < limit


def cents(hz: float) -> float:
    """Above A = 440 Hz."""
    return 1200 * log2(hz / 440)
