"""Whatever of droner's own rows a player replaces: every mistake stands in the player's file, and the rest is playable.

Referee  the player's file: droner's own files hold no mistake, so none may be found in them. The odd rows are invented:
         other rows of the library under the wrong name.
"""

from __future__ import annotations

import tomllib
from datetime import date
from functools import lru_cache
from typing import Any

import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st

from droner.errors import Mistake, MistakesFound
from droner.practice.pattern import Patterns
from droner.practice.plan import Planner
from droner.practice.reading.files import file_text, patterns_folder
from droner.practice.reading.pattern_reading import read_patterns
from droner.practice.reading.session_reading import read_session
from droner.practice.session import Session

EXAMPLES = 60
METERS = ("4/4", "12/8", "2/2", "5/8", "4/32")
ODD: dict[str, tuple[tuple[str, Any], ...]] = {
    "drill": (("cells", ["-2"]), ("changes", "written"), ("meter", "3/4"), ("tempo", 20), ("path", "octave")),
    "rhythm": (*(("meter", meter) for meter in METERS), ("lengths", "1"), ("lengths", "1/9 1/9")),
    "changes": (("kind", "written"), ("kind", "progression"), ("kind", "none"), ("every", "cell")),
    "variant_set": (("rhythms", ["even in two"]), ("articulations", ["all short"])),
}
"""Keys by which a row of each sort is made odder still."""


@lru_cache(maxsize=1)
def ours() -> tuple[tuple[str, str], ...]:
    return tuple((f"patterns/{path.name}", file_text(path)) for path in sorted(patterns_folder().glob("*.toml")))


@lru_cache(maxsize=1)
def rows() -> dict[str, Any]:
    """Every row of droner's own, by its sort and its name."""
    read: dict[str, Any] = {}
    for _, text in ours():
        for sort, values in tomllib.loads(text).items():
            read[sort] = {**read.get(sort, {}), **values} if isinstance(values, dict) else values
    return read


@st.composite
def replacing(draw: st.DrawFn) -> str:
    """A file with one or two of droner's rows replaced by others of their sort, made odd, perhaps with a table."""
    own: dict[str, Any] = {}
    if draw(st.booleans()):
        own["variant"] = draw(st.lists(st.sampled_from(rows()["variant"]), min_size=1, max_size=3, unique_by=tuple))
    sorts = sorted(sort for sort in rows() if sort != "variant")
    for sort in draw(st.lists(st.sampled_from(sorts), min_size=1, max_size=2)):
        name = draw(st.sampled_from(sorted(rows()[sort])))
        odd = draw(st.lists(st.sampled_from(ODD[sort]), max_size=2)) if sort in ODD else []
        row = dict(draw(st.sampled_from(list(rows()[sort].values())))) | dict(odd)
        own.setdefault(sort, {})[draw(st.sampled_from([name, name.upper()]))] = row
    return tomli_w.dumps(own)


@lru_cache(maxsize=1)
def drills() -> tuple[str, ...]:
    return tuple(rows()["drill"])


def read_with(own: str) -> tuple[Patterns | None, tuple[Mistake, ...]]:
    try:
        return read_patterns([*ours(), ("own.toml", own)]), ()
    except MistakesFound as found:
        return None, found.mistakes


@given(replacing(), st.sampled_from(["sixty", "twelve", "none"]), st.data())
@settings(max_examples=EXAMPLES, deadline=None)
def test_a_mistake_is_never_found_in_droners_own_files(own: str, variants: str, data: st.DataObject) -> None:
    patterns, mistakes = read_with(own)
    assert all(each.file == "own.toml" and each.line for each in mistakes)
    if patterns is None:
        assert mistakes
        return
    blocks = "".join(f'[[block]]\ndrill = "{data.draw(st.sampled_from(drills()))}"\n' for _ in range(2))
    check_day(f'range = ["C4", "C6"]\n[rotation]\nkeys_per_day = 1\nvariants = "{variants}"\n{blocks}', patterns)


def check_day(text: str, patterns: Patterns) -> None:
    """The session's mistake is at a line of it, or its day can be planned."""
    session, mistakes = session_in(text, patterns)
    assert all(each.file == "s.toml" and each.line for each in mistakes)
    if session is None:
        assert mistakes
        return
    plan = Planner(session, patterns).day(date(2026, 1, 5))
    assert plan.items or plan.left_out


def session_in(text: str, patterns: Patterns) -> tuple[Session | None, tuple[Mistake, ...]]:
    try:
        return read_session(text, "s.toml", patterns), ()
    except MistakesFound as found:
        return None, found.mistakes
