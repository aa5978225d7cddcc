"""Hold what the screen of a live day shows: written by whoever knows it, read by the screen.

Rule    a scene is a whole that never changes: what sounds, what comes next, how long the day lasts after it. The board
        holds the scene of now, the last mark and the last remark; each is replaced in one step, so that no reader
        needs a lock.
Units   seconds.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import TYPE_CHECKING

from droner.practice.alone import sounds_alone
from droner.score.words import manner_words, shown_bpm

if TYPE_CHECKING:
    from collections.abc import Callable

    from droner.live.words import Place
    from droner.practice.item import Item
    from droner.practice.plan import PlannedItem
    from droner.score.tempo_map import TempoMap
    from droner.units import Beats


FLAT = "\N{MUSIC FLAT SIGN}"
NONE = "none"
"""What the patterns call no drone, and no chords."""


class Kind(Enum):
    """What is going on, as the screen says it."""

    ITEM = ""
    DRONE = "drone only, until again"
    BREATH = "take a breath"
    REST = "rest"
    LAST = "the last run is over: mark it"


SOUNDING = frozenset({Kind.ITEM, Kind.DRONE})


@dataclass(frozen=True, slots=True)
class Scene:
    """What sounds now. `seconds` is its length, `after` what the day has after it, waits and rests included.

    `number` and `of` count items. `beat` is the felt beat.
    """

    kind: Kind
    item: Item
    number: int
    of: int
    tempos: TempoMap
    seconds: Fraction
    after: Fraction
    following: Item | None
    beat: Beats

    def bpm_at(self, moment: Beats) -> Fraction:
        """The tempo at a moment, in felt beats a minute."""
        segment = next(one for one in reversed(self.tempos.segments) if one.onset <= max(moment, self._start))
        return Fraction(60_000_000, segment.quarter_us) / self.beat.exact

    def left_at(self, moment: Beats) -> Fraction:
        """The seconds left of it; a drone alone takes nothing of the item."""
        if self.kind is Kind.DRONE:
            return self.seconds
        return max(self.seconds - self.tempos.seconds_at(moment).exact, Fraction(0))

    @property
    def bars(self) -> int:
        """The number of its last bar; 0 where no bars are counted."""
        if self.kind is not Kind.ITEM:
            return 0
        bar = self.item.meter.bar
        return sum(
            int(placed.phrase.length.ratio(bar)) for once in self.item.performance.repeats for placed in once.phrases
        )

    @property
    def _start(self) -> Beats:
        return self.tempos.segments[0].onset


class Board:
    """What the screen shows. `place` asks the output where the music is, `trouble` what is wrong with the machine.

    `over` is the item that sounded last: in a pause the keys are for it. `tuning` is named where there is room.
    `on` is what it sounds on.
    """

    def __init__(self, place: Callable[[], Place | None], trouble: Callable[[], str]) -> None:
        self._scene: Scene | None = None
        self.over: Item | None = None
        self.tuning = self.on = ""
        self.mark = ""
        self.remark = ""
        self.place = place
        self.trouble = trouble

    @property
    def scene(self) -> Scene | None:
        """What is going on."""
        return self._scene

    @scene.setter
    def scene(self, scene: Scene | None) -> None:
        if scene is not None and scene.kind in SOUNDING:
            self.over = scene.item
        self._scene = scene


def name_of(item: Item) -> str:
    """What an item is called: "turning scale, C# minor"."""
    return f"{item.drill.name}, {item.key}" if item.key else item.drill.name


def large_names(item: Item) -> tuple[str, ...]:
    """What is written large, the longest first: the key, never without its mode, or the drill where there is none."""
    if item.key is None:
        return item.drill.name, item.drill.name.split()[0]
    return item.key.spoken, str(item.key)[0] + str(item.key)[1:].replace("b", FLAT, 1)


def manner_of(item: Item) -> str:
    """How it is played, in the player's words."""
    return "; ".join(manner_words(item)) or "plain"


def ground_of(item: Item, tuning: str) -> str:
    """What sounds under it: "drone: tonic and fifth; chords: plain cadence"."""
    drone = "no drone" if item.drone.name == NONE else f"drone: {item.drone.name}"
    chords = "no chords" if item.changes.name == NONE or sounds_alone(item) else f"chords: {item.changes.name}"
    return "; ".join(filter(None, (drone, chords, tuning)))


def line_of(planned: PlannedItem, of: int) -> str:
    """An item in one line."""
    item = planned.item
    return f"{planned.number} of {of}: {name_of(item)}: {manner_of(item)}, {shown_bpm(item.bpm)} a minute"
