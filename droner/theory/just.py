"""Give each spelled interval its pure ratio above the tonic.

Rule    the ratio follows the spelling, by place on the line of fifths; octaves are 2/1. The player may choose
        the minor third, the major second and the minor seventh; the choice moves no other interval.
Units   ratios of frequencies, upper over lower; exact, but for the equal minor third.
Source  the ratios: `just_table`.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import exp2

from droner.theory.just_table import EQUAL, MINOR_THIRDS, RATIOS, SECONDS, SEVENTHS
from droner.theory.pitch import Interval

MAJOR_THIRD = Fraction(5, 4)
_CHOICES = (
    # what, place on the line of fifths, allowed
    ("minor_third", -3, MINOR_THIRDS),
    ("second", 2, SECONDS),
    ("seventh", -2, SEVENTHS),
)


@dataclass(frozen=True, slots=True)
class Just:
    """Pure ratios above the tonic, with the player's minor third, major second and minor seventh."""

    name: str = "just"
    minor_third: str = MINOR_THIRDS[0]
    second: str = SECONDS[0]
    seventh: str = SEVENTHS[0]

    def __post_init__(self) -> None:
        for what, _, allowed in _CHOICES:
            if getattr(self, what) not in allowed:
                plain = what.replace("_", " ")
                raise ValueError(f"{getattr(self, what)!r} is not a just {plain}; choose one of {', '.join(allowed)}")

    def factor(self, interval: Interval) -> float:
        exact = self.ratio(interval)
        return exp2(interval.semitones / 12) if exact is None else float(exact)

    def ratio(self, interval: Interval) -> Fraction | None:
        """The exact ratio; None for the equal minor third and its octaves."""
        place = interval.fifths
        chosen = next((getattr(self, what) for what, at, _ in _CHOICES if at == place), "")
        if chosen == EQUAL:
            return None
        return (Fraction(chosen) if chosen else just_ratio(place)) * Fraction(2) ** interval.octaves


@lru_cache(maxsize=256)
def just_ratio(place: int) -> Fraction:
    """The pure ratio of a place on the line of fifths, for the interval with 0 to 6 staff steps."""
    if place in RATIOS:
        return RATIOS[place]
    if place < 0:
        return Fraction(2 if _steps(place) else 1) / just_ratio(-place)
    third_higher = just_ratio(place - 4) * MAJOR_THIRD
    return third_higher / 2 if _steps(place - 4) + 2 >= 7 else third_higher


def _steps(place: int) -> int:
    """Staff steps, 0 to 6, of a place on the line of fifths."""
    return 4 * place % 7
