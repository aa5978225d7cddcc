"""Draw the map of a cycle in letters: a line for each key, a sign for each variant.

Rule    the keys stand in the order of the rotation, the variants in that of the table. Above every tenth variant stands
        its number, with the last digit over it. More variants than a page has room for go on below.
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


COLUMNS = "A column is a variant; the last digit of each number stands over its own."


def _map(covered: Coverage, wide: int, signs: Signs) -> Iterator[str]:
    """As many variants beside one another as there is room for, in tens; then those that follow."""
    label = max(map(width, covered.asked.keys))
    room = max((wide - label - len(GAP)) // TEN, 1) * TEN
    for first in range(0, len(covered.asked.variants), room):
        yield (" " * (label + len(GAP)) + _ruler(covered.asked.variants[first : first + room])).rstrip()
        for name, row in zip(covered.asked.keys, covered.rows, strict=True):
            yield _line(name, label, row[first : first + room], signs)
        yield ""


def _line(name: str, label: int, row: Sequence[Turn], signs: Signs) -> str:
    return name + " " * (label - width(name)) + GAP + "".join(signs[turn.state] for turn in row)


def _ruler(variants: Sequence[int]) -> str:
    """The numbers of every tenth variant; of the last one where there are fewer."""
    if len(variants) < TEN:
        return (str(variants[-1]) if variants[-1] else "").rjust(len(variants))
    return "".join(str(variants[tenth]).rjust(TEN) for tenth in range(TEN - 1, len(variants), TEN))


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
