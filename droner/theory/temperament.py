"""Say how large each spelled interval is above the reference note, in a temperament.

Rule    equal             counts half-steps only.
        pythagorean, meantone  walk the spelled line of fifths and never close: G sharp is not A flat, and the
                          wolf is simply the diminished sixth G sharp - E flat.
        just              gives each spelled interval its ratio above the tonic.
        the well temperaments  close the circle: twelve keys, so G sharp is A flat.
        An octave is always 2/1.
Units   factor: ratio of frequencies as a float; ratio: exact, None where it is not rational.
Source  `temperament_table`; the just ratios: `just`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import accumulate
from math import exp2, ldexp
from types import MappingProxyType
from typing import Protocol

from droner.errors import nearest
from droner.theory.cents import PYTHAGOREAN_COMMA, SYNTONIC_COMMA, cents_of, factor_of
from droner.theory.just import Just
from droner.theory.just_table import EQUAL, MINOR_THIRDS, SECONDS, SEVENTHS
from droner.theory.pitch import Interval
from droner.theory.temperament_table import ALIASES, CIRCLE, REGULAR, WELL, Narrowing

FIFTH = Fraction(3, 2)


class Temperament(Protocol):
    """How large every spelled interval above the reference note is."""

    @property
    def name(self) -> str:
        """The plain name: "just", "werckmeister 3"."""

    def factor(self, interval: Interval) -> float:
        """The interval as a ratio of frequencies."""

    def ratio(self, interval: Interval) -> Fraction | None:
        """The exact ratio, or None where the temperament has none."""


@dataclass(frozen=True, slots=True)
class Equal:
    """Twelve equal half-steps."""

    name: str = EQUAL

    def factor(self, interval: Interval) -> float:
        octaves, half_steps = divmod(interval.semitones, 12)
        return ldexp(exp2(half_steps / 12), octaves)

    def ratio(self, interval: Interval) -> Fraction | None:
        return None if interval.semitones % 12 else Fraction(2) ** (interval.semitones // 12)


@dataclass(frozen=True, slots=True)
class Commas:
    """An amount of narrowing: parts of the Pythagorean and of the syntonic comma."""

    pythagorean: Fraction
    syntonic: Fraction

    def __add__(self, other: Commas) -> Commas:
        return Commas(self.pythagorean + other.pythagorean, self.syntonic + other.syntonic)

    def __mul__(self, times: int) -> Commas:
        return Commas(self.pythagorean * times, self.syntonic * times)

    @property
    def cents(self) -> float:
        """How much narrower, in cents."""
        return float(self.pythagorean) * cents_of(PYTHAGOREAN_COMMA) + float(self.syntonic) * cents_of(SYNTONIC_COMMA)

    def narrow(self, pure: Fraction) -> float:
        """The pure ratio narrowed by this much."""
        exact = self.narrow_exactly(pure)
        return float(pure) * factor_of(-self.cents) if exact is None else float(exact)

    def narrow_exactly(self, pure: Fraction) -> Fraction | None:
        """The same where whole commas make it exact, else None."""
        if self.pythagorean.denominator != 1 or self.syntonic.denominator != 1:
            return None
        return pure / PYTHAGOREAN_COMMA**self.pythagorean.numerator / SYNTONIC_COMMA**self.syntonic.numerator


@dataclass(frozen=True, slots=True)
class Regular:
    """Every fifth of the spelled line narrowed alike."""

    name: str
    each: Commas

    def factor(self, interval: Interval) -> float:
        return (self.each * interval.fifths).narrow(_pure_fifths(interval))

    def ratio(self, interval: Interval) -> Fraction | None:
        return (self.each * interval.fifths).narrow_exactly(_pure_fifths(interval))


@dataclass(frozen=True, slots=True)
class Well:
    """A closed circle of twelve keys. `narrowed` sums the narrowings from the reference to each of its fifths."""

    name: str
    narrowed: tuple[Commas, ...]

    def __hash__(self) -> int:
        return hash(self.name)

    def factor(self, interval: Interval) -> float:
        spelled = _on_circle(interval)
        return self.narrowed[spelled.fifths].narrow(_pure_fifths(spelled))

    def ratio(self, interval: Interval) -> Fraction | None:
        spelled = _on_circle(interval)
        return self.narrowed[spelled.fifths].narrow_exactly(_pure_fifths(spelled))


def _pure_fifths(interval: Interval) -> Fraction:
    """The ratio of an interval reached by pure fifths and octaves."""
    octaves = (interval.steps - 4 * interval.fifths) // 7
    return FIFTH**interval.fifths * Fraction(2) ** octaves


def _on_circle(interval: Interval) -> Interval:
    """The same key of the piano, spelled 0 to 11 fifths above the reference note."""
    place = interval.semitones * 7 % 12
    half_steps = interval.semitones
    return Interval((7 * half_steps - place) // 12, half_steps)


def _well(name: str, narrowings: tuple[Narrowing, ...]) -> Well:
    """Sum the narrowings along the circle from its first note to each of its fifths."""
    each = {
        fifth: Commas(pythagorean, syntonic) for fifths, pythagorean, syntonic in narrowings for fifth in fifths.split()
    }
    sums = accumulate((each.get(fifth, PURE) for fifth in CIRCLE[:-1]), initial=PURE)
    return Well(name, tuple(sums))


PURE = Commas(Fraction(0), Fraction(0))

_FIXED: dict[str, Temperament] = {
    EQUAL: Equal(),
    **{name: Regular(name, Commas(pythagorean, syntonic)) for name, pythagorean, syntonic, _ in REGULAR},
    **{name: _well(name, narrowings) for name, narrowings, _ in WELL},
}
_ALIASES = dict(ALIASES)

TEMPERAMENTS: Mapping[str, str] = MappingProxyType(
    {
        "just": "pure ratios above the tonic",
        EQUAL: "twelve equal half-steps",
        **{name: about for name, _, _, about in REGULAR},
        **{name: about for name, _, about in WELL},
    }
)
"""Every temperament by its name, with a plain description."""


@lru_cache(maxsize=256)
def temperament(
    name: str, *, minor_third: str = MINOR_THIRDS[0], second: str = SECONDS[0], seventh: str = SEVENTHS[0]
) -> Temperament:
    """The temperament of that name; only "just" heeds the three choices. ValueError for an unknown word."""
    asked = " ".join(name.casefold().split())
    asked = _ALIASES.get(asked, asked)
    just = Just("just", minor_third, second, seventh)
    if asked == just.name:
        return just
    if asked in _FIXED:
        return _FIXED[asked]
    close = nearest(asked, [*TEMPERAMENTS, *_ALIASES])
    hint = f"; did you mean {close}?" if close else ""
    raise ValueError(f"{name!r} is not a temperament; the temperaments are {', '.join(TEMPERAMENTS)}{hint}")
