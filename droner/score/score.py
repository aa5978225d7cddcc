"""The written-out timeline of one item: the single source of all that sounds, prints or travels.

Rule    every part shares one tempo map and one count of beats from 0, the start of the count-in.
        A tone carries the spelled pitch and the hertz that it shall sound at; nobody tunes again later.
        Solo pitches exist twice: `written` as the player reads, `pitch` as it sounds.
Units   onset and length in quarter notes (Beats); hz in hertz; velocity in MIDI velocity 1..127.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from droner.score.tempo_map import TempoMap
    from droner.theory.key import Key
    from droner.theory.meter import Meter
    from droner.theory.pitch import Pitch
    from droner.units import Beats, Seconds


class Attack(Enum):
    """How a note begins: with the tongue, with the back of the tongue, on the air alone, or slurred into."""

    TONGUE = "tongue"
    BACK = "back"
    AIR = "air"
    SLUR = "slur"


class ClickKind(Enum):
    """What a click says: the first of the bar, another beat, a part of a beat, or the count before the start."""

    ACCENT = "accent"
    BEAT = "beat"
    SUBDIVISION = "subdivision"
    COUNT = "count"


@dataclass(frozen=True, slots=True)
class Bearing:
    """Where a moving tone stands at a moment: cents above its hertz, decibels above its level."""

    onset: Beats
    cents: float
    gain_db: float


@dataclass(frozen=True, slots=True)
class Tone:
    """One held tone of the drone or of a chord, at its sounding pitch.

    `gain_db` is against the level of its part; `plain` is a single partial, without others. A tone that moves has a
    `course`: its bearings in order of onset, led over in straight lines of time; the first holds before it and the last
    after it. An empty course stands still.
    """

    onset: Beats
    length: Beats
    pitch: Pitch
    hz: float
    gain_db: float = 0.0
    plain: bool = False
    course: tuple[Bearing, ...] = ()


@dataclass(frozen=True, slots=True)
class ChordEvent:
    """One chord of the changes; its tones share onset and length. `symbol` is spelled as it sounds."""

    onset: Beats
    length: Beats
    symbol: str
    numeral: str
    tones: tuple[Tone, ...]


@dataclass(frozen=True, slots=True)
class SoloNote:
    """One note of the drill.

    `length` is what is written, `sounded` how much of it sounds (short notes sound for half). `velocity` is
    the loudness at the start; `shape` moves it: (place in the note 0..1, velocity) points joined by straight
    lines, empty for a level note. `pulses` counts measured vibrato pulses a beat, 0 for none.
    """

    onset: Beats
    length: Beats
    sounded: Beats
    written: Pitch
    pitch: Pitch
    hz: float
    velocity: int
    attack: Attack = Attack.TONGUE
    accent: bool = False
    shape: tuple[tuple[Fraction, int], ...] = ()
    pulses: int = 0


@dataclass(frozen=True, slots=True)
class Click:
    """One click. `gain` 0..1 scales it, so that a click can fade away over the bars."""

    onset: Beats
    kind: ClickKind
    gain: float = 1.0


@dataclass(frozen=True, slots=True)
class Cue:
    """Words at a moment: `shown` for the page and the MIDI file, `spoken` with signs and numbers as words."""

    onset: Beats
    shown: str
    spoken: str


@dataclass(frozen=True, slots=True)
class Answer:
    """How far a drone came back off after a silence, in cents; told to nobody before the end."""

    onset: Beats
    cents: float


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar. Bar 1 is the first that is played, and numbers run on through repeats; count-in bars are 0."""

    number: int
    onset: Beats
    meter: Meter


@dataclass(frozen=True, slots=True)
class Breath:
    """A breath mark: where it starts and how much rest it has."""

    onset: Beats
    length: Beats


@dataclass(frozen=True, slots=True)
class KeyMark:
    """From `onset` the music stands in `written` for the player, `sounding` for the ear."""

    onset: Beats
    written: Key
    sounding: Key


@dataclass(frozen=True, slots=True)
class Marker:
    """A named place in the timeline: the start of an item or of a repeat."""

    onset: Beats
    text: str


@dataclass(frozen=True, slots=True)
class Score:
    """One item, or a whole day joined end to end. Parts are in order of onset; all lie within 0..length.

    The four long parts never change either: tuples, or sequences that write an event out when asked (see `columns`).
    """

    title: str
    a4_hz: float
    length: Beats
    tempo_map: TempoMap
    bars: tuple[Bar, ...]
    keys: tuple[KeyMark, ...]
    markers: tuple[Marker, ...]
    cues: tuple[Cue, ...]
    breaths: tuple[Breath, ...]
    solo: Sequence[SoloNote]
    drone: Sequence[Tone]
    changes: Sequence[ChordEvent]
    clicks: Sequence[Click]
    answers: tuple[Answer, ...] = ()

    @property
    def duration(self) -> Seconds:
        """How long it lasts."""
        return self.tempo_map.seconds_at(self.length)
