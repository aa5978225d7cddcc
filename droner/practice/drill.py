"""The records of a drill: what its notes are taken from, the cells, the path, how it is best accompanied.

Rule    a drill is data, frozen once read; code lays it out, and it holds no music of its own.
        Cells count scale steps as players do: 1 is the note itself, 3 the third above, -3 the third below.
Units   lengths in quarter notes (Beats).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from droner.units import Beats


class Material(Enum):
    """What a drill's notes are taken from."""

    SCALE = "scale"
    CHROMATIC = "chromatic"
    CHORD = "chord"
    NOTE = "note"
    PARTIALS = "partials"


class Path(Enum):
    """The way a drill travels over its material."""

    TURNING = "turning"
    OCTAVE = "octave"
    TWO_OCTAVES = "two octaves"
    HALF_STEPS = "half-steps"
    FROM_THE_MIDDLE = "from the middle"
    UPWARDS = "upwards"
    STAY = "stay"


class Order(Enum):
    """How the notes of a cell are ordered on the way up; the way down mirrors it."""

    WRITTEN = "as written"
    REVERSED = "reversed"
    ALTERNATING = "alternating"


class Staple(Enum):
    """Which part of a day of fundamentals a drill serves."""

    TONE = "tone"
    SCALES = "scales"
    ARPEGGIOS = "arpeggios"
    STUDY = "study"
    TONGUE = "tongue"


@dataclass(frozen=True, slots=True)
class Strain:
    """One stretch of a drill: material, cells and path.

    `of` narrows the material: a scale's name, a chord's numeral ("V7"), partial numbers ("2 3 4 5 6").
    `lengths` holds one tuple a cell; empty when the variant's rhythm is laid over the notes.
    `every_triad` replaces the cells by all ten triads that contain the note.
    """

    material: Material
    of: str
    cells: tuple[tuple[int, ...], ...]
    path: Path
    order: Order = Order.WRITTEN
    stride: int = 1
    lengths: tuple[tuple[Beats, ...], ...] = ()
    every_triad: bool = False


@dataclass(frozen=True, slots=True)
class StudyNote:
    """One note of a study: scale degree (8 is the octave, -2 the step below the tonic), alteration, length.

    `degree` 0 is a rest.
    """

    degree: int
    alter: int
    length: Beats


@dataclass(frozen=True, slots=True)
class StudyBar:
    """One bar of a study: its numeral, its notes, and whether a breath follows it."""

    numerals: tuple[str, ...]
    notes: tuple[StudyNote, ...]
    breath: bool = False


@dataclass(frozen=True, slots=True)
class Drill:
    """A melodic pattern written in scale steps, with how it is best accompanied."""

    name: str
    about: str
    staple: Staple
    strains: tuple[Strain, ...]
    study: tuple[StudyBar, ...] = ()
    study_minor: tuple[StudyBar, ...] = ()
    meter: str = "4/4"
    tempo: Fraction = Fraction(60)
    breath_cells: int = 0
    """Breathe after so many cells; 0: wherever the air needs it."""
    count: int = 1
    """How often the whole path (or the held note) is played."""
    keyed: bool = True
    """It stands in a key of the day. False: it walks the chromatic compass and has no key."""
    one_key: bool = False
    """It is played in one of the day's keys, a different one each lap, unless the session asks for more."""
    varies: bool = True
    """The day's variant is laid over it."""
    divisible: bool = False
    """A short day may take some of its phrases and leave the rest for the next day."""
    minor_form: str = "melodic minor"
    shape: str = ""
    """Loudness inside each note: "swell" or empty."""
    pulses: tuple[int, ...] = ()
    """Measured vibrato pulses a beat, one for each cell in turn."""
    articulation: str = ""
    """Its own articulation, when it does not take the variant's."""
    drone: str = "tonic"
    changes: str = "none"
    click: str = "every beat"
    caution: str = ""
    """The usual caution where the work can hurt, shown with the plan."""
