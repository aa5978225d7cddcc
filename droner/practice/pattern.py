"""The rows of the pattern library: rhythms, articulations, clicks, changes, drones, variants; and the library.

Rule    a pattern is data: one row of a TOML file, frozen once read. Code lays it out; it holds no music of its own.
        Drills are rows too, with records of their own in `drill`.
Units   lengths in quarter notes (Beats). Velocities come from the dynamic's name, in theory.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from droner.practice.drill import Drill
    from droner.units import Beats


@dataclass(frozen=True, slots=True)
class Rhythm:
    """A rhythm cell: lengths that fill whole beats of its meter."""

    name: str
    about: str
    lengths: tuple[Beats, ...]
    meter: str = "4/4"


@dataclass(frozen=True, slots=True)
class Mark:
    """How one note is spoken: "tongue", "back", "air" or "slur"; short notes sound for half their length."""

    attack: str
    short: bool = False


@dataclass(frozen=True, slots=True)
class Articulation:
    """Marks for the first notes of a phrase, then a cycle; `per_cell` starts the cycle anew on each rhythm cell."""

    name: str
    about: str
    first: tuple[Mark, ...]
    cycle: tuple[Mark, ...]
    per_cell: bool = False


@dataclass(frozen=True, slots=True)
class Dynamic:
    """Loudness of the lowest and the highest note of a line, as dynamic signs ("p", "mf"); between, by height."""

    name: str
    about: str
    low: str
    high: str


@dataclass(frozen=True, slots=True)
class Accent:
    """Which notes are marked: at = none, first, second, last (of the rhythm cell) or cross (every 3 across 4s)."""

    name: str
    about: str
    at: str
    air: bool = False


@dataclass(frozen=True, slots=True)
class Turn:
    """Where a turning path starts: start = bottom tonic ("low tonic"), "top", or a scale degree ("5")."""

    name: str
    about: str
    start: str


@dataclass(frozen=True, slots=True)
class ClickPattern:
    """Where clicks fall.

    `beats`: felt beats of the bar, counted from 1; empty for all. `offset`: part of a felt beat by which each
    click is late. `divide`: clicks a felt beat (0: the meter's own division). `on_rhythm`: also a quiet click
    on each note of the drill. `bars_on`/`bars_off`: so many bars heard, so many silent (0 off: always).
    `drop`: share of clicks left out at random, seeded. `fade_bars`: fades to nothing over so many bars.
    `only`: "" or "breaths".
    """

    name: str
    about: str
    beats: tuple[int, ...] = ()
    offset: Fraction = Fraction(0)
    divide: int = 1
    on_rhythm: bool = False
    bars_on: int = 1
    bars_off: int = 0
    drop: Fraction = Fraction(0)
    fade_bars: int = 0
    only: str = ""
    silent: bool = False


HELD_NOTE = "held note"
"""The kind of changes whose chords all hold the note that sounds."""


@dataclass(frozen=True, slots=True)
class Changes:
    """Chords under a drill.

    kind "none"; "as played": the chord each cell spells; "by degree": the numeral standing for the scale degree
    of the first note of each `every`; "progression": the numerals in turn, one each `every`, home at the end;
    "written": the study's own harmony; "held note": the triads that hold the note which sounds, in turn, each
    for so many `bars`. `every`: "bar", "half bar", "beat" or "cell". `triads`: "key", the three of the key, or
    "all" ten. `stays`: "note", the chord is placed around the note; "chord", the note goes to the chord.
    """

    name: str
    about: str
    kind: str
    every: str = "bar"
    major: tuple[str, ...] = ()
    minor: tuple[str, ...] = ()
    bars: int = 1
    triads: str = "key"
    stays: str = "note"


@dataclass(frozen=True, slots=True)
class DroneKind:
    """Which tones the drone holds: degrees above its root; moves = never, cell (root of each cell) or note.

    `bars_on`/`bars_off`: so many bars sounding, so many silent (0 off: always). `returns`: cents, by one of which
    every second sounding is off. `only`: "" or "before you play". `pairs`: degrees of a second high tone over a
    plain first one, in turn, each for `pair_bars`. `ghost_bars`: the difference tone fades away over so many
    bars, 0 for none; without pairs the second tone is the player's. `softer_over`: so many sessions in which the
    drone gets softer by `softer_db` decibels, 0 for none.
    """

    name: str
    about: str
    degrees: tuple[int, ...]
    moves: str = "never"
    bars_on: int = 1
    bars_off: int = 0
    returns: tuple[int, ...] = ()
    only: str = ""
    pairs: tuple[int, ...] = ()
    pair_bars: int = 4
    ghost_bars: int = 0
    softer_over: int = 0
    softer_db: Fraction = Fraction(0)

    @property
    def bars_needed(self) -> int:
        """How many bars a time through must have for its first silence, or its first return; else it sounds on."""
        if not self.bars_off:
            return 0
        turn = self.bars_on + self.bars_off
        return 2 * turn + 1 if self.returns else self.bars_on + 2


@dataclass(frozen=True, slots=True)
class Variant:
    """One way to play a drill: a row of the table of variants, by the names of its six factors."""

    number: int
    rhythm: str
    articulation: str
    dynamic: str
    accent: str
    click: str
    turn: str

    @property
    def words(self) -> str:
        """Its six factors by name."""
        factors = (self.rhythm, self.articulation, self.dynamic, self.accent, self.click, self.turn)
        return ", ".join(factors)


@dataclass(frozen=True, slots=True)
class VariantSet:
    """A set of variants: the rows of the table whose rhythm and articulation are named (empty: all)."""

    name: str
    about: str
    rhythms: tuple[str, ...] = ()
    articulations: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Patterns:
    """The whole library: droner's own rows, then the player's, which may replace them by name."""

    drills: Mapping[str, Drill]
    rhythms: Mapping[str, Rhythm]
    articulations: Mapping[str, Articulation]
    dynamics: Mapping[str, Dynamic]
    accents: Mapping[str, Accent]
    turns: Mapping[str, Turn]
    clicks: Mapping[str, ClickPattern]
    changes: Mapping[str, Changes]
    drones: Mapping[str, DroneKind]
    variants: tuple[Variant, ...]
    variant_sets: Mapping[str, VariantSet]

    def variants_of(self, name: str) -> tuple[Variant, ...]:
        """The variants of a set, in the order of the table. KeyError for an unknown set."""
        chosen = self.variant_sets[name]
        return tuple(
            row
            for row in self.variants
            if (not chosen.rhythms or row.rhythm in chosen.rhythms)
            and (not chosen.articulations or row.articulation in chosen.articulations)
        )
