"""Know an instrument: what it sounds for what is written, how far it reaches, how it goes out of tune.

Rule    ranges are written pitches; add `sounding` to hear them. The middle, where slow chromatic work starts,
        is the middle key of the compass, the upper one of two, so G5 on a flute from C4 to D7.
Units   written pitches; `sounding` is the interval from the written to the sounding pitch.
Source  the facts: `instrument_table`. Usual spelling of the middle: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from droner.errors import nearest
from droner.theory.instrument_table import FAMILIES, HALF_STEPS_ABOVE, ROWS, Row
from droner.theory.interval import interval
from droner.theory.pitch import Interval, NoteName, Pitch, note_name, pitch

LEVELS = ("beginner", "intermediate", "advanced")
_USUAL_NAMES = tuple(note_name(text) for text in ("C", "C#", "D", "Eb", "E", "F", "F#", "G", "G#", "A", "Bb", "B"))
_PARTIALS = {
    "octave": (1, 2, 3, 4, 5, 6, 7),
    "twelfth": (1, 3, 5, 7, 9),
    "brass": (2, 3, 4, 5, 6, 7, 8, 9, 10),
}


def _usual_pitch(midi: int) -> Pitch:
    """A key of the piano in its usual spelling."""
    return _USUAL_NAMES[midi % 12].in_octave(midi // 12 - 1)


@dataclass(frozen=True, slots=True)
class Range:
    """A compass: from its lowest pitch to its highest, both played."""

    low: Pitch
    high: Pitch

    def __post_init__(self) -> None:
        if self.high < self.low:
            raise ValueError(f"a compass goes up: {self.low} is above {self.high}")

    def __contains__(self, asked: Pitch) -> bool:
        return self.low.midi <= asked.midi <= self.high.midi

    @property
    def middle(self) -> Pitch:
        """The middle key, the upper one of two, in its usual spelling."""
        return _usual_pitch((self.low.midi + self.high.midi + 1) // 2)

    def transposed(self, distance: Interval) -> Range:
        """The same compass moved by an interval: from written to sounding with an instrument's `sounding`."""
        return Range(self.low + distance, self.high + distance)

    def __str__(self) -> str:
        return f"{self.low}-{self.high}"


@dataclass(frozen=True, slots=True)
class Instrument:
    """A wind instrument. All pitches are as the player reads them.

    `overblows` is "octave", "twelfth" or "brass"; `loud_goes` is where the pitch drifts when playing louder,
    "sharp" or "flat". `program` counts from 1, as General MIDI prints it. `reach` is as far as any player goes,
    with extra keys and pedal notes.
    """

    name: str
    aliases: tuple[str, ...]
    family: str
    sounding: Interval
    clef: str
    program: int
    beginner: Range
    intermediate: Range
    advanced: Range
    overblows: str
    loud_goes: str
    reach: Range

    @property
    def ranges(self) -> Mapping[str, Range]:
        """The written compass by level."""
        return MappingProxyType(
            {"beginner": self.beginner, "intermediate": self.intermediate, "advanced": self.advanced}
        )

    @property
    def middle(self) -> Pitch:
        """The middle of the advanced compass, where slow chromatic work starts."""
        return self.advanced.middle

    @property
    def transposes(self) -> bool:
        """Whether it sounds another note name than written; an octave does not count."""
        return self.sounding.steps % 7 != 0

    @property
    def partials(self) -> tuple[int, ...]:
        """The partials that one fingering gives when overblown, counted from the tube's fundamental."""
        return _PARTIALS[self.overblows]

    def sounds(self, written: Pitch) -> Pitch:
        """The pitch heard for a written one."""
        return written + self.sounding

    def reads(self, sounding: Pitch) -> Pitch:
        """The written pitch for one to be heard."""
        return sounding - self.sounding

    def written_name(self, sounding: NoteName) -> NoteName:
        """The note name the player reads for a sounding one."""
        return sounding + -self.sounding


def _range(text: str) -> Range:
    low, high = text.split("-")
    return Range(pitch(low), pitch(high))


def _instrument_of(row: Row) -> Instrument:
    name, aliases, family, sounding, clef, program, ranges = row
    beginner, intermediate, advanced = (_range(text) for text in ranges.split())
    overblows, loud_goes, below = _HABITS[family]
    others = tuple(alias.strip() for alias in aliases.split(";") if alias)
    return Instrument(
        name,
        others,
        family,
        interval(sounding),
        clef,
        program,
        beginner,
        intermediate,
        advanced,
        overblows,
        loud_goes,
        _reach((beginner, intermediate, advanced), below),
    )


def _reach(ranges: tuple[Range, ...], below: int) -> Range:
    """The widest of some compasses, with what some players have below and above it."""
    lowest, highest = min(one.low.midi for one in ranges), max(one.high.midi for one in ranges)
    return Range(_usual_pitch(lowest - below), _usual_pitch(highest + HALF_STEPS_ABOVE))


_HABITS = {family: (overblows, loud_goes, below) for family, overblows, loud_goes, below in FAMILIES}

INSTRUMENTS: Mapping[str, Instrument] = MappingProxyType({row[0]: _instrument_of(row) for row in ROWS})
"""Every instrument by its name, in score order."""


def _plain(name: str) -> str:
    """A name without habits of typing: "Clarinet in Bb", "B-flat clarinet" and "clarinet in b flat" are one."""
    words = name.replace("-", " ").casefold().split()
    words = [f"{word[0]} flat" if word in {"ab", "bb", "eb"} else word for word in words]
    kind, _, pitched = " ".join(words).partition(" in ")
    return f"{pitched} {kind}" if pitched else kind


_KNOWN = {_plain(name): one for one in INSTRUMENTS.values() for name in (one.name, *one.aliases)}


@lru_cache(maxsize=256)
def instrument(name: str) -> Instrument:
    """The instrument of that name or other name, in any case. ValueError, with the nearest, otherwise."""
    asked = _plain(name)
    if asked in _KNOWN:
        return _KNOWN[asked]
    close = nearest(asked, _KNOWN)
    hint = f"; did you mean {_KNOWN[close].name}?" if close else ""
    raise ValueError(f"{name!r} is not an instrument; the instruments are {'; '.join(INSTRUMENTS)}{hint}")
