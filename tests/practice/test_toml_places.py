"""Referees: tomllib says which values a text holds, tomli_w wrote it; that a value stands on a line can be seen there.

Every whole number in the made texts occurs once, so the line of a value is the line that holds its figures.
"""

from __future__ import annotations

import re
import tomllib
from typing import Any

import pytest
import tomli_w
from hypothesis import given
from hypothesis import strategies as st

from droner.practice.reading.toml_places import TomlPath, line_of, path_at, places

FIRST_NUMBER = 10_000_000
"""No key below can hold these figures."""
TRICKY_TEXTS = (
    "plain",
    "two\nlines\n[not a table]\nnot_a_key = 1",
    'a """ b',
    "it's # no remark ] } ,",
    "back\\slash \\",
    "",
    '"',
    "\u00e9\u2028\u266d",
)
KEYS = st.one_of(st.text("abc_-12", min_size=1, max_size=4), st.text("a .\"'#[]={},\\\n\u00e9", max_size=4))


class Numbered:
    """Stands for the next unused number."""


LEAVES: st.SearchStrategy[Any] = st.one_of(
    st.just(Numbered), st.sampled_from(TRICKY_TEXTS), st.booleans(), st.dates(), st.just([])
)
VALUES: st.SearchStrategy[Any] = st.recursive(
    LEAVES, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(KEYS, inner, max_size=4), max_leaves=25
)
TABLES = st.dictionaries(KEYS, VALUES, max_size=5)


def numbered(value: Any, last: list[int]) -> Any:
    if value is Numbered:
        last[0] += 1
        return last[0]
    if isinstance(value, dict):
        return {key: numbered(each, last) for key, each in value.items()}
    return [numbered(each, last) for each in value] if isinstance(value, list) else value


def all_values(data: Any, path: TomlPath = ()) -> dict[TomlPath, Any]:
    found = {path: data} if path else {}
    pairs = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for part, value in pairs:
        found |= all_values(value, (*path, part))
    return found


@given(TABLES, st.booleans())
def test_every_value_of_a_written_file_stands_on_its_line(made: dict[str, Any], multiline: bool) -> None:  # noqa: FBT001
    text = tomli_w.dumps(numbered(made, [FIRST_NUMBER]), multiline_strings=multiline)
    lines, found = text.split("\n"), places(text)
    values = all_values(tomllib.loads(text))
    assert set(found) == set(values)
    for path, value in values.items():
        line = lines[line_of(found, path) - 1]
        if isinstance(value, int) and value > FIRST_NUMBER:
            assert str(value) in line
        elif isinstance(path[-1], str) and re.fullmatch(r"[\w-]+", path[-1], re.ASCII):
            assert path[-1] in line


CASES = (
    ('title = "a"\nminutes = 3', ("minutes",), 2),
    ("# remark\n\n[tuning]\na4 = 442 # [x]\n", ("tuning", "a4"), 4),
    ("[tuning]\n\n\n", ("tuning",), 1),
    ("[[block]]\ndrill = 1\n[[block]]\ndrill = 2", ("block", 1, "drill"), 4),
    ("[[block]]\ndrill = 1\n[[block]]\ndrill = 2", ("block", 1), 3),
    ("[[block]]\n[block.ladder]\nfrom = 1\n[[block]]\n[block.ladder]\nfrom = 2", ("block", 1, "ladder", "from"), 6),
    ("[[a]]\n[[a.b]]\n[[a.b]]\nx = 1\n[[a]]\n[[a.b]]\nx = 2", ("a", 1, "b", 0, "x"), 7),
    ('[drill."turning scale"]\npath = "up"', ("drill", "turning scale", "path"), 2),
    ("[drill.'a.b']\npath = 1", ("drill", "a.b", "path"), 2),
    ('[drill."caf\\u00e9"]\npath = 1', ("drill", "caf\u00e9", "path"), 2),
    ("sound.drone.pan = 1\nsound.drone.on = true", ("sound", "drone", "on"), 2),
    ('"a b" . c = 1\n', ("a b", "c"), 1),
    ("ladder = { from = 60, to = 126 }", ("ladder", "to"), 1),
    ("a = { b = { c = [1, { d = 2 }] } }", ("a", "b", "c", 1, "d"), 1),
    ('keys = [\n  "C major", # ]\n  "D major",\n]\nx = 1', ("keys", 1), 3),
    ('keys = [\n  "C major", # ]\n  "D major",\n]\nx = 1', ("x",), 5),
    ('a = """\nb = 1\n"""\nb = 2', ("b",), 4),
    ('a = """x \\""" y"""\nb = 2', ("b",), 2),
    ('a = """x"""""\nb = 2', ("b",), 2),
    ("a = '''\n\"\"\"\nb = 1'''\nb = 2", ("b",), 4),
    ('a = "[["\nb = \'#"\'\nc = 3', ("c",), 3),
    ("a = 1\r\nb = 2\r\n", ("b",), 2),
    ("a = 2026-01-01T10:00:00Z\nb = -1_000.5e3\nc = inf", ("c",), 3),
    ("variant = [\n  [1, 2],\n  [3, 4],\n]", ("variant", 1, 0), 3),
)


@pytest.mark.parametrize(("text", "path", "line"), CASES)
def test_the_line_that_a_reader_would_point_at(text: str, path: TomlPath, line: int) -> None:
    assert path in all_values(tomllib.loads(text))
    assert line_of(places(text), path) == line


def test_a_missing_key_has_the_line_of_its_table() -> None:
    assert line_of(places("\n[tuning]\n"), ("tuning", "a4")) == 2
    assert line_of(places("\n[tuning]\n"), ("rotation", "keys")) == 0


def test_the_key_of_a_line() -> None:
    found = places("[tuning]\na4 = 442\n")
    assert path_at(found, 2) == ("tuning", "a4")
    assert path_at(found, 3) == ()


@given(st.text() | st.text("[]{}=,.\"'#\\\n ab1", max_size=60))
def test_an_odd_text_never_fails(text: str) -> None:
    last = text.count("\n") + 1
    assert all(1 <= line <= last for line in places(text).values())


@pytest.mark.parametrize(
    "text", ["[" * 100_000, "a = " + "[" * 100_000, "a={" * 50_000, "a." * 100_000, '"""' + "a" * 10]
)
def test_a_text_nested_beyond_sense_never_fails(text: str) -> None:
    assert line_of(places(text), ("a",)) in {0, 1}
