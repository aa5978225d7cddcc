"""Give a scale's notes, spelled, above any tonic.

Rule    a scale is intervals from its tonic within one octave, going up and coming down; both are listed
        from the tonic upwards. A key of seven notes therefore always uses seven letters.
        "minor" means the natural minor; a drill chooses another form by its full name.
Source  the intervals: `scale_table`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from droner.errors import nearest
from droner.theory.interval import degrees
from droner.theory.pitch import Interval, NoteName
from droner.theory.scale_table import ALIASES, ROWS, Row

MINOR_THIRD = Interval(2, 3)
MAJOR_THIRD = Interval(2, 4)


@dataclass(frozen=True, slots=True)
class Scale:
    """A scale, free of any tonic.

    `signature` counts fifths from the tonic's major signature (natural minor -3); None: written without one.
    """

    name: str
    rising: tuple[Interval, ...]
    falling: tuple[Interval, ...]
    about: str
    signature: int | None = None

    def notes(self, tonic: NoteName, *, falling: bool = False) -> tuple[NoteName, ...]:
        """The notes of one octave from the tonic upwards, as spelled going up or coming down."""
        return _notes(self, tonic, falling)

    @property
    def is_minor(self) -> bool:
        """Whether its third is minor, and only minor."""
        return MINOR_THIRD in self.rising and MAJOR_THIRD not in self.rising


@lru_cache(maxsize=2048)
def _notes(scale: Scale, tonic: NoteName, falling: bool) -> tuple[NoteName, ...]:  # noqa: FBT001 - a cache key
    return tuple(tonic + interval for interval in (scale.falling if falling else scale.rising))


def _scale_of(row: Row) -> Scale:
    name, rising, falling, signature, about = row
    return Scale(name, degrees(rising), degrees(falling or rising), about, signature)


SCALES: Mapping[str, Scale] = MappingProxyType({row[0]: _scale_of(row) for row in ROWS})
"""Every scale by its name, in the order of the table."""

_ALIASES = dict(ALIASES)


@lru_cache(maxsize=256)
def scale(name: str) -> Scale:
    """The scale of that name, in any case; "minor" is the natural minor. ValueError for an unknown one."""
    asked = " ".join(name.casefold().split())
    asked = _ALIASES.get(asked, asked)
    if asked in SCALES:
        return SCALES[asked]
    close = nearest(asked, [*SCALES, *_ALIASES])
    hint = f"; did you mean {close}?" if close else ""
    raise ValueError(f"{name!r} is not a scale; the scales are {'; '.join(SCALES)}{hint}")
