"""Say what a number measures: beats, seconds, ticks and frames cannot be mistaken for one another.

Rule    a moment and a span have different names (`onset`, `length`) and the same type.
        Beats and seconds are exact fractions with arithmetic of their own: adding one to the other
        is a TypeError at run time and a type error before. Ticks and frames are whole numbers.
Units   Beats: quarter notes. Seconds: seconds. Ticks: 1/ppq quarter of a MIDI file. Frames: one
        sample of every channel.
"""

from __future__ import annotations

from fractions import Fraction
from typing import NewType, Self

Ticks = NewType("Ticks", int)
Frames = NewType("Frames", int)


class _Exact:
    """An exact amount of one unit. Subclasses differ only in the unit, and never mix."""

    __slots__ = ("exact",)
    exact: Fraction

    def __init__(self, amount: Fraction | int | str = 0, denominator: int = 1) -> None:
        if isinstance(amount, float):
            raise TypeError(f"{type(self).__name__} are exact: give a Fraction, an int or '3/4', not a float")
        value = Fraction(amount)
        self.exact = value / denominator if denominator != 1 else value

    @classmethod
    def _of(cls, exact: Fraction) -> Self:
        made = cls.__new__(cls)
        made.exact = exact
        return made

    def _same(self, other: object) -> Fraction:
        if type(other) is not type(self):
            raise TypeError(f"{type(self).__name__} do not mix with {type(other).__name__}")
        return other.exact

    def __add__(self, other: Self) -> Self:
        return self._of(self.exact + self._same(other))

    def __sub__(self, other: Self) -> Self:
        return self._of(self.exact - self._same(other))

    def __mul__(self, times: Fraction | int) -> Self:
        if isinstance(times, float):
            raise TypeError(f"{type(self).__name__} are exact: multiply by a Fraction or an int")
        return self._of(self.exact * times)

    __rmul__ = __mul__

    def __truediv__(self, parts: Fraction | int) -> Self:
        return self._of(self.exact / parts)

    def ratio(self, other: Self) -> Fraction:
        """How many times `other` goes into this."""
        return self.exact / self._same(other)

    def __neg__(self) -> Self:
        return self._of(-self.exact)

    def __lt__(self, other: Self) -> bool:
        return self.exact < self._same(other)

    def __le__(self, other: Self) -> bool:
        return self.exact <= self._same(other)

    def __gt__(self, other: Self) -> bool:
        return self.exact > self._same(other)

    def __ge__(self, other: Self) -> bool:
        return self.exact >= self._same(other)

    def __eq__(self, other: object) -> bool:
        return type(other) is type(self) and self.exact == other.exact

    def __hash__(self) -> int:
        return hash((type(self).__name__, self.exact))

    def __bool__(self) -> bool:
        return self.exact != 0

    def __float__(self) -> float:
        return float(self.exact)

    def __repr__(self) -> str:
        return f"{type(self).__name__}({str(self.exact)!r})"


class Beats(_Exact):
    """An exact number of quarter notes: a moment (`onset`) or a span (`length`)."""

    __slots__ = ()


class Seconds(_Exact):
    """An exact number of seconds: a moment or a span."""

    __slots__ = ()


def frame_at(moment: Seconds, rate_hz: int) -> Frames:
    """The sample at which a moment falls: rounded once, half up, from the exact value."""
    return Frames((moment.exact * rate_hz * 2 + 1) // 2)
