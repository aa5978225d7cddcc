"""One item of the day, fully decided: what, in which key, how, at what tempo. The score is written from it.

Rule    every name of the session and the patterns has become the thing itself. Equal orders give equal items.
Units   bpm counts felt beats of `meter`; `speeds` are per cent of it. The rung has the tempo that the session, its
        ladder or the drill asks for; `bpm` is slower where the rhythm is dense.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from droner.practice.breath import fitting_bpm, longest_breath
from droner.practice.layout.line import UNKEYED
from droner.practice.performance import WHOLE

if TYPE_CHECKING:
    from fractions import Fraction

    from droner.practice.drill import Drill
    from droner.practice.ladder.rung import Rung
    from droner.practice.layout.line import Line
    from droner.practice.pattern import (
        Accent,
        Articulation,
        Changes,
        ClickPattern,
        DroneKind,
        Dynamic,
        Rhythm,
        Turn,
        Variant,
    )
    from droner.practice.performance import Course, Performance
    from droner.practice.session import Block
    from droner.theory.key import Key
    from droner.theory.meter import Meter
    from droner.units import Seconds


@dataclass(frozen=True, slots=True)
class Manner:
    """How the notes are played: a variant's factors, or a drill's own."""

    rhythm: Rhythm | None
    articulation: Articulation
    dynamic: Dynamic
    accent: Accent
    turn: Turn


@dataclass(frozen=True, slots=True)
class Portion:
    """Part of a divisible drill: `count` phrases from phrase `start`, out of `whole`."""

    start: int
    count: int
    whole: int


@dataclass(frozen=True, slots=True, eq=False)
class Item:
    """One thing to play. `key` is as the player reads it, None for what has no key."""

    block: Block
    drill: Drill
    key: Key | None
    variant: Variant | None
    bpm: Fraction
    rung: Rung
    meter: Meter
    manner: Manner
    drone: DroneKind
    changes: Changes
    click: ClickPattern
    line: Line
    course: Course
    performance: Performance
    portion: Portion | None = None

    @property
    def asked_bpm(self) -> Fraction:
        """The tempo that is asked for; its own is slower where the rhythm is dense."""
        return self.rung.bpm

    @property
    def speeds(self) -> tuple[Fraction, ...]:
        """Per cent of its tempo, one time through each."""
        return self.course.speeds

    @property
    def runs(self) -> tuple[Fraction, ...]:
        """The speeds of the player's own times through, without the one that is only listened to."""
        return self.speeds[1:] if self.block.listen_first else self.speeds

    @property
    def judged_runs(self) -> int:
        """How many of them the player judges: on a ladder those at its tempo, else all."""
        return max(self.runs.count(WHOLE), 1) if self.block.ladder else len(self.runs)

    @property
    def fewest_bars(self) -> int:
        """The bars of its shortest time through."""
        return min(
            sum(int(placed.phrase.length.ratio(self.meter.bar)) for placed in repeat.phrases)
            for repeat in self.performance.repeats
        )

    @property
    def seconds(self) -> Seconds:
        """How long it lasts, count-ins and breaths included."""
        return self.performance.duration

    @property
    def air(self) -> Seconds:
        """How long one breath carries: what the session says, less where the item is loud throughout."""
        return self.course.air

    @property
    def longest_breath(self) -> Seconds:
        """How long its longest phrase sounds at the slowest tempo it is played at; looked for each time it is asked."""
        return longest_breath(self.performance, self.course)

    @property
    def fitting_bpm(self) -> int:
        """The slowest whole tempo, not slower than its own, at which its air would carry every phrase of its drill."""
        return fitting_bpm(self.line, self.course)

    @property
    def tonality(self) -> Key:
        """The key as read, or C where there is none: what degrees and numerals are counted from."""
        return self.key or UNKEYED

    @property
    def name(self) -> str:
        """What it is called: "turning scale in E flat minor"."""
        return f"{self.drill.name} in {self.key.spoken}" if self.key else self.drill.name
