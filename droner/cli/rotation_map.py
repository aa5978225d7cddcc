"""Draw the map of a cycle in letters: a line for each key, a sign for each variant.

Rule    the keys stand in the order of the rotation, the variants in that of the table, each under its number. More
        variants than a page has room for go on below.
        Where the terminal cannot write the signs, plain ones take their place.
Units   widths in cells of a terminal.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from droner.cli.table import GAP, width, wrapped
from droner.practice.coverage import State

if TYPE_CHECKING:
    from droner.cli.rotation_played import Played
    from droner.practice.coverage import Coverage, Turn

TEN = 10
Signs = Mapping[State, str]
SIGNS: Signs = {
    State.BY_ALL: "\N{FULL BLOCK}",
    State.BY_SOME: "\N{LOWER HALF BLOCK}",
    State.PASSED: "-",
    State.AHEAD: "\N{MIDDLE DOT}",
}
PLAIN_SIGNS: Signs = {State.BY_ALL: "#", State.BY_SOME: "+", State.PASSED: "-", State.AHEAD: "."}


def signs_for(encoding: str) -> Signs:
    """The signs that a terminal of this encoding can write."""
    try:
        "".join(SIGNS.values()).encode(encoding)
    except (UnicodeEncodeError, LookupError):
        return PLAIN_SIGNS
    return SIGNS


def map_page(played: Played, wide: int, signs: Signs) -> str:
    """The map with its legend."""
    covered = played.coverage
    parts = (
        f"Cycle {covered.cycle + 1}: {covered.played} of {played.turns} turns are played.",
        "",
        *_map(covered, wide, signs),
        wrapped(_legend(covered, signs), wide),
        wrapped(COLUMNS, wide),
    )
    return "\n".join(parts)


COLUMNS = "A column is a variant; its number stands above it, tens over ones."


def _map(covered: Coverage, wide: int, signs: Signs) -> Iterator[str]:
    """As many variants beside one another as there is room for, in tens; then those that follow."""
    label = max(map(width, covered.asked.keys))
    room = max((wide - label - len(GAP)) // TEN, 1) * TEN
    for first in range(0, len(covered.asked.variants), room):
        yield from _ruler(covered.asked.variants[first : first + room], " " * (label + len(GAP)))
        for name, row in zip(covered.asked.keys, covered.rows, strict=True):
            yield _line(name, label, row[first : first + room], signs)
        yield ""


def _line(name: str, label: int, row: Sequence[Turn], signs: Signs) -> str:
    return name + " " * (label - width(name)) + GAP + "".join(signs[turn.state] for turn in row)


def _ruler(variants: Sequence[int], before: str) -> Iterator[str]:
    """The numbers of the variants, a digit a line, so that each stands over its column; none over plain."""
    numbers = [str(variant) if variant else "" for variant in variants]
    most = max(map(len, numbers))
    for digit in range(most):
        yield (before + "".join(number.rjust(most)[digit] for number in numbers)).rstrip()


def _legend(covered: Coverage, signs: Signs) -> str:
    words = legend_words(covered)
    return "; ".join(f"{signs[state]} {words[state]}" for state in words) + "."


def legend_words(covered: Coverage) -> dict[State, str]:
    """What the signs say that a map of this session can hold."""
    drills = len(covered.asked.followers)
    words = {
        State.BY_ALL: "played"
        if drills < 2
        else f"played by all {drills} drills"
        if drills > 2
        else "played by both drills",
        State.BY_SOME: "by one of them" if drills == 2 else "by some of them",
        State.PASSED: "passed without an entry",
        State.AHEAD: "ahead",
    }
    return {state: said for state, said in words.items() if drills > 1 or state is not State.BY_SOME}
