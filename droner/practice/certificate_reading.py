"""Read the facts out of a certificate's file.

Rule    a certificate is ASCII, one JSON object a line, each of a known kind. From each kind only what is a fact is
        read; what cannot be read, or cannot be, is told with its line. A fact that many lines tell is what most of them
        say, see `certificate_votes`.
Units   lines count from 1.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import Any

from droner.practice.certificate import TURNING, VERSION, Certificate, Play
from droner.practice.certificate_mistakes import Mistakes
from droner.practice.certificate_votes import (
    cycle_by_most,
    drills_by_most,
    keys_by_most,
    numbers_by_most,
    walk_by_most,
)
from droner.practice.coverage import Follower

Row = dict[str, Any]
Numbered = tuple[int, Row]
"""A line of the file with its number."""

KINDS: Mapping[str, Mapping[str, type]] = {
    "certificate": {"session": str, "instrument": str, "day": str, "version": int},
    "rule": {"keys": int, "variants": int, "turns": int, "cycle": int, "first_place": int, "offsets": list},
    "recheck": {"how": list},
    "key": {"index": int, "name": str, "offset": int},
    "variant": {"index": int, "number": int, "is": str},
    "drill": {"name": str, "plays": list},
    "turn": {"place": int, "key": str, "variant": int, "played": list, "missing": list},
    "counts": {"turns": int, "played": int},
    "sum": {"sha256": str},
}
"""The kinds of lines, and what is read from each; the rest is compared."""
PLAYED = {"drill": str, "variant": int, "day": str, "entry": str}
LARGEST = 10**18
"""No number in a certificate is as large; larger ones may be too long for Python to write."""
ONCE = ("certificate", "rule", "recheck", "counts", "sum")


def certificate_in(lines: Sequence[str], mistakes: Mistakes) -> Certificate:
    """What the lines certify, if they are what they should be. MistakesFound otherwise."""
    rows = [(number, row) for number, line in enumerate(lines, 1) if (row := _row(line, number, mistakes)) is not None]
    mistakes.raise_if_any()
    certificate = _facts(rows, mistakes)
    mistakes.raise_if_any()
    return certificate


def lines_of(data: bytes, mistakes: Mistakes) -> list[str]:
    """The lines of a file, without their ends. MistakesFound when it is no such text."""
    if b"\r" in data:
        mistakes.add(data[: data.index(b"\r")].count(b"\n") + 1, "", "a line ends with more than a line feed")
    elif not data.endswith(b"\n"):
        mistakes.add(data.count(b"\n") + 1, "", "the file is cut short: its last line has no end")
    elif not data.isascii():
        line = next(number for number, line in enumerate(data.split(b"\n"), 1) if not line.isascii())
        mistakes.add(line, "", "this is no certificate of droner's: it is not in ASCII")
    mistakes.raise_if_any()
    return data.decode("ascii").split("\n")[:-1]


def _row(line: str, number: int, mistakes: Mistakes) -> Row | None:
    """A line as data, if it is of a known kind and has what is read from it."""
    try:
        row = json.loads(line)
    except (ValueError, RecursionError):
        mistakes.add(number, "", "this is no line of JSON", line)
        return None
    kind = row.get("line") if isinstance(row, dict) else None
    if not isinstance(kind, str) or kind not in KINDS:
        mistakes.add(number, "line", "there is no line of this kind in a certificate", line, "; ".join(KINDS))
        return None
    wrong = [key for key, type_ in KINDS[kind].items() if not _is(row.get(key), type_)]
    for key in wrong:
        mistakes.add(number, key, f"a line of the kind {kind} needs this", row.get(key))
    return None if wrong else row


def _is(value: object, type_: type) -> bool:
    if isinstance(value, int) and abs(value) > LARGEST:
        return False
    return isinstance(value, type_) and not isinstance(value, bool)


def _facts(rows: Sequence[Numbered], mistakes: Mistakes) -> Certificate:
    """The facts of a file. MistakesFound when they do not make a certificate."""
    of = {kind: [one for one in rows if one[1]["line"] == kind] for kind in KINDS}
    for kind in ONCE:
        if len(of[kind]) != 1:
            mistakes.add(0, "", f"a certificate has one line of the kind {kind}", len(of[kind]), 1)
    mistakes.raise_if_any()
    (head_line, head), (rule_line, rule) = of["certificate"][0], of["rule"][0]
    if head["version"] != VERSION:
        mistakes.add(head_line, "version", "another droner wrote this certificate", head["version"], VERSION)
    _count(rule_line, rule, of, mistakes)
    mistakes.raise_if_any()
    day = _day(head_line, "day", head["day"], mistakes)
    turns, keys, numbered = ([row for _, row in of[kind]] for kind in ("turn", "key", "variant"))
    drills = drills_by_most([row for _, row in of["drill"]], turns)
    followers = tuple(
        _follower(number, row, name, mistakes) for (number, row), name in zip(of["drill"], drills, strict=True)
    )
    found = {row["place"]: _plays(number, row, followers, day, mistakes) for number, row in of["turn"]}
    plays = {place: each for place, each in found.items() if each}
    mistakes.raise_if_any()
    _each_once(of["turn"], of["drill"], mistakes)
    mistakes.raise_if_any()
    walk = walk_by_most(rule, keys, numbered, turns)
    numbers = numbers_by_most(walk, numbered, turns)
    variants = tuple((number, row["is"]) for number, row in zip(numbers, numbered, strict=True))
    names, cycle = keys_by_most(keys, turns), cycle_by_most(rule, turns)
    return Certificate(head["session"], head["instrument"], day, walk, cycle, names, variants, followers, plays)


def _count(line: int, rule: Row, of: Mapping[str, Sequence[Numbered]], mistakes: Mistakes) -> None:
    """The numbers of the rule against the lines that there are."""
    if rule["cycle"] < 1:
        mistakes.add(line, "cycle", "cycles count from 1", rule["cycle"])
    for kind, several in (("key", "keys"), ("variant", "variants"), ("turn", "turns")):
        asked = rule["keys"] * rule["variants"] if kind == "turn" else rule[several]
        if len(of[kind]) != asked or not asked:
            mistakes.add(line, several, f"there are not as many lines of the kind {kind}", len(of[kind]), asked)


def _day(line: int, key: str, text: str, mistakes: Mistakes) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        mistakes.add(line, key, "there is no such day", text)
        return date.min


def _follower(line: int, row: Row, name: str, mistakes: Mistakes) -> Follower:
    own = [one for one in row["plays"] if one != TURNING]
    if not row["plays"] or not all(_is(one, int) for one in own):
        mistakes.add(line, "plays", "these are no variants", row["plays"])
    return Follower(name, turning=TURNING in row["plays"], own=tuple(own))


def _plays(line: int, row: Row, followers: Sequence[Follower], day: date, mistakes: Mistakes) -> tuple[Play, ...]:
    """The plays of a turn in the order of the drills, each of which can be."""
    found: dict[str, Play] = {}
    for one in row["played"]:
        if not isinstance(one, dict) or not all(_is(one.get(key), type_) for key, type_ in PLAYED.items()):
            mistakes.add(line, "played", "this does not say which drill, variant, day and entry", one)
            continue
        play = Play(one["drill"], one["variant"], _day(line, "played", one["day"], mistakes), one["entry"])
        drill = next((follower for follower in followers if follower.drill == play.drill), None)
        if drill is None or play.drill in found or not drill.plays(play.variant, row["variant"]):
            mistakes.add(line, "played", "no drill that follows the rotation plays this turn so", one)
        if play.day > day:
            mistakes.add(line, "played", "this is later than the certificate", one["day"], f"until {day}")
        found[play.drill] = play
    return tuple(found[follower.drill] for follower in followers if follower.drill in found)


def _each_once(turns: Iterable[Numbered], drills: Iterable[Numbered], mistakes: Mistakes) -> None:
    """No place, no drill and no entry stands twice."""
    _no_twins(((number, row["name"]) for number, row in drills), "name", "this drill", mistakes)
    _no_twins(((number, row["place"]) for number, row in turns), "place", "this place", mistakes)
    entries = ((number, one["entry"]) for number, row in turns for one in row["played"])
    _no_twins(entries, "played", "this entry", mistakes)


def _no_twins(values: Iterable[tuple[int, object]], key: str, what: str, mistakes: Mistakes) -> None:
    first: dict[object, int] = {}
    for line, value in values:
        if first.setdefault(value, line) != line:
            mistakes.add(line, key, f"{what} stands in line {first[value]} already", value)
