"""Recount the table of variants from the file itself.

Referee arithmetic: six factors of 10, 6, 5, 6, 4 and 3 values make 60 rows of rhythm x articulation and 467 pairs of
        values of two different factors. Nothing is taken from the code under test but the choice of a set.
"""

from __future__ import annotations

import tomllib
from collections import Counter
from itertools import combinations, pairwise, product
from pathlib import Path
from typing import Any

import pytest

from droner.practice.pattern import Patterns, Variant, VariantSet

PATTERNS = Path(__file__).parents[2] / "patterns"
FACTORS = ("rhythm", "articulation", "dynamic", "accent", "click", "turn")
LEVELS = (10, 6, 5, 6, 4, 3)
"""How many values each factor has."""
LEVEL_COUNTS = list(zip(FACTORS, LEVELS, strict=True))
PAIRS = 467
"""10x6 + 10x5 + 10x6 + 10x4 + 10x3 + 6x5 + 6x6 + 6x4 + 6x3 + 5x6 + 5x4 + 5x3 + 6x4 + 6x3 + 4x3, by hand."""
SIZES = {"sixty": 60, "thirty": 30, "twelve": 12}

Row = tuple[str, ...]


def file_of(name: str) -> dict[str, Any]:
    return tomllib.loads((PATTERNS / f"{name}.toml").read_text(encoding="utf-8"))


TABLE = file_of("variants")
ROWS: tuple[Row, ...] = tuple(tuple(row) for row in TABLE["variant"])


def rows_of(name: str) -> tuple[Row, ...]:
    """The rows of a set, as the pattern library chooses them."""
    rows = tuple(Variant(number, *row) for number, row in enumerate(ROWS, 1))
    sets = {
        title: VariantSet(title, row["about"], tuple(row.get("rhythms", ())), tuple(row.get("articulations", ())))
        for title, row in TABLE["variant_set"].items()
    }
    library = Patterns({}, {}, {}, {}, {}, {}, {}, {}, {}, rows, sets)
    return tuple(tuple(getattr(row, factor) for factor in FACTORS) for row in library.variants_of(name))


def values(rows: tuple[Row, ...], factor: str) -> Counter[str]:
    return Counter(row[FACTORS.index(factor)] for row in rows)


def value_pairs(rows: tuple[Row, ...]) -> set[tuple[str, str, str, str]]:
    return {
        (FACTORS[one], row[one], FACTORS[other], row[other]) for row in rows for one, other in combinations(range(6), 2)
    }


@pytest.mark.parametrize(("factor", "count"), LEVEL_COUNTS)
def test_every_value_is_a_row_of_the_library_and_their_number_is_right(factor: str, count: int) -> None:
    known = set(file_of(f"{factor}s")[factor])
    used = {row[FACTORS.index(factor)] for row in ROWS}
    assert used <= known
    assert len(used) == count


def test_each_rhythm_meets_each_articulation_exactly_once() -> None:
    met = Counter(row[:2] for row in ROWS)
    assert len(ROWS) == 10 * 6
    assert set(met) == set(product(values(ROWS, "rhythm"), values(ROWS, "articulation")))
    assert set(met.values()) == {1}


def test_all_467_pairs_of_values_are_met() -> None:
    assert sum(one * other for one, other in combinations(LEVELS, 2)) == PAIRS
    assert len(value_pairs(ROWS)) == PAIRS


def test_fifty_nine_rows_would_not_do() -> None:
    # rhythm x articulation alone has sixty pairs, so any row left out leaves a pair out
    assert all(len(value_pairs(ROWS[:place] + ROWS[place + 1 :])) < PAIRS for place in range(60))


@pytest.mark.parametrize(("factor", "count"), LEVEL_COUNTS)
def test_every_value_stands_equally_often(factor: str, count: int) -> None:
    assert set(values(ROWS, factor).values()) == {60 // count}


def test_the_first_row_is_the_plain_one() -> None:
    assert ROWS[0] == ("even in four", "all slurred", "medium", "no accent", "every beat", "from the low tonic")


@pytest.mark.parametrize(("name", "size"), list(SIZES.items()))
def test_sets_have_their_size_and_start_plainly(name: str, size: int) -> None:
    rows = rows_of(name)
    assert len(set(rows)) == len(rows) == size
    assert rows[0] == ROWS[0]


@pytest.mark.parametrize("name", SIZES)
@pytest.mark.parametrize("factor", ["rhythm", "articulation", "dynamic"])
def test_neighbours_differ_even_from_the_last_row_to_the_first(name: str, factor: str) -> None:
    column = [row[FACTORS.index(factor)] for row in rows_of(name)]
    assert all(one != other for one, other in pairwise([*column, column[0]]))


@pytest.mark.parametrize("name", SIZES)
@pytest.mark.parametrize("factor", ["dynamic", "click", "turn"])
def test_no_set_leaves_out_a_dynamic_a_click_or_a_turn(name: str, factor: str) -> None:
    assert set(values(rows_of(name), factor)) == set(values(ROWS, factor))


def test_the_thirty_are_even_in_dynamic_accent_and_turn() -> None:
    rows = rows_of("thirty")
    assert set(values(rows, "dynamic").values()) == {6}
    assert set(values(rows, "accent").values()) == {5}
    assert set(values(rows, "turn").values()) == {10}


def test_the_twelve_are_kind_to_beginners() -> None:
    rows = rows_of("twelve")
    accents = values(rows, "accent")
    assert accents["no accent"] + accents["on the beat"] == 8
    assert accents["cross-group"] == 0
    assert values(rows, "click")["every beat"] == 6
    assert set(values(rows, "dynamic").values()) == {2, 3}


def test_the_breath_marks_the_beat_mostly_where_the_tongue_rests() -> None:
    # "air only" must meet each articulation at least once; where the tongue is busy, once is all
    air = Counter(row[1] for row in ROWS if row[3] == "air only")
    assert air["compound tonguing"] == air["all short"] == 1
    assert air["all slurred"] == max(air.values()) == 3
