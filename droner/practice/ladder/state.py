"""Record what was played on a ladder, how it stands after it, and each move that led there.

Rule    frozen records; places on a ladder count from 0.
Units   beats a minute; whole days.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from datetime import date
    from fractions import Fraction


@dataclass(frozen=True, slots=True)
class Run:
    """One entry of what was played: so many runs at one tempo on one day, and how many of them were clean.

    `step` names the rung, where the climb is not by tempo.
    """

    day: date
    bpm: Fraction
    step: str
    clean: int
    total: int

    def __post_init__(self) -> None:
        if not 0 <= self.clean <= self.total or self.total == 0:
            raise ValueError(f"{self.clean} clean of {self.total} cannot be")


class Played(Protocol):
    """Anything that tells what a run tells: an entry of the logbook too."""

    @property
    def day(self) -> date:
        """The player's own day."""

    @property
    def bpm(self) -> Fraction:
        """The tempo on the ladder."""

    @property
    def step(self) -> str:
        """The name of the rung, where the climb is not by tempo."""

    @property
    def clean(self) -> int:
        """Runs without a miss."""

    @property
    def total(self) -> int:
        """All runs."""


class Why(Enum):
    """What moved a ladder."""

    UP = "clean"
    DOWN = "missed"
    RESTART = "days away"
    REACHED = "target clean"


@dataclass(frozen=True, slots=True)
class Move:
    """One change of place. `count`: clean runs in a row, misses in a row, or days away, whatever made it.

    The target that is clean for the first time, or again after a fall, is a move too: from the last place to itself.
    """

    day: date
    from_place: int
    to_place: int
    why: Why
    count: int


@dataclass(frozen=True, slots=True)
class State:
    """How a ladder stands after everything that was played.

    `held`: the places below it were clean since the last fall. `clean_to`: the one below it is the secure one,
    which a fall takes back only as far as it was missed itself. `row`, `missed`: clean
    runs and misses in a row, as far as they are proved, since the last move. `clean`, `total`: this day's runs that
    counted since then. `failing`: days that failed since the place `stuck` was last passed. `returned`: the longest
    absence, in days, that the player came back from clean.
    """

    place: int = 0
    held: int = 0
    clean_to: int = 0
    day: date | None = None
    row: int = 0
    missed: int = 0
    clean: int = 0
    total: int = 0
    failing: int = 0
    stuck: int = 0
    returned: int = 0

    @property
    def counted(self) -> bool:
        """Whether anything counted since the last move."""
        return bool(self.row or self.missed or self.total)


@dataclass(frozen=True, slots=True)
class Climb:
    """How a ladder was climbed: since which day, each move, and how it stands. `first` None: nothing was played."""

    state: State = State()
    moves: tuple[Move, ...] = ()
    first: date | None = None
