"""Find what comes nearest to many wishes at once: the least sum of weighted squares.

Rule    a wish asks that some of the unknowns, each times a factor, sum to an aim; missing it costs its weight times the
        square of the miss. The answer solves the normal equations by elimination. Wishes tie near neighbours only,
        so the equations are a narrow band, and the work grows with the number of unknowns, not with its cube.
Source  normal equations, elimination of a positive definite band without exchanging rows: linear algebra.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

Band = list[list[float]]
"""The upper half of a symmetric matrix: row i holds the columns from i to i + width - 1."""


@dataclass(frozen=True, slots=True)
class Wish:
    """That unknowns, by number and each times its factor, sum to the aim."""

    terms: tuple[tuple[int, float], ...]
    aim: float
    weight: float


def nearest_to(wishes: Sequence[Wish], count: int) -> tuple[float, ...]:
    """The values of so many unknowns that miss the wishes least. Each unknown needs a wish that holds it in place."""
    band, right = _normal_equations(wishes, count)
    _eliminate(band, right)
    return _substituted(band, right)


def _normal_equations(wishes: Sequence[Wish], count: int) -> tuple[Band, list[float]]:
    width = 1 + max((_reach(wish) for wish in wishes), default=0)
    band = [[0.0] * width for _ in range(count)]
    right = [0.0] * count
    for wish in wishes:
        for row, factor in wish.terms:
            right[row] += wish.weight * factor * wish.aim
            for column, other in wish.terms:
                if column >= row:
                    band[row][column - row] += wish.weight * factor * other
    return band, right


def _reach(wish: Wish) -> int:
    numbers = [number for number, _ in wish.terms]
    return max(numbers) - min(numbers)


def _eliminate(band: Band, right: list[float]) -> None:
    """Clear everything below the diagonal, in place."""
    for row, values in enumerate(band):
        for ahead in range(1, min(len(values), len(band) - row)):
            factor = values[ahead] / values[0]
            if factor:
                below = band[row + ahead]
                for place in range(ahead, len(values)):
                    below[place - ahead] -= factor * values[place]
                right[row + ahead] -= factor * right[row]


def _substituted(band: Band, right: Sequence[float]) -> tuple[float, ...]:
    """The unknowns, from the last to the first."""
    found = [0.0] * len(right)
    for row in reversed(range(len(right))):
        known = sum(factor * value for factor, value in zip(band[row][1:], found[row + 1 :], strict=False))
        found[row] = (right[row] - known) / band[row][0]
    return tuple(found)
