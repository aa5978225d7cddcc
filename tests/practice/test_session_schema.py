"""Referee: jsonschema's validator of draft 2020-12 judges the schema, and sessions by it.

An editor hands a TOML date to the schema as text, so the tests do the same.
"""

from __future__ import annotations

import json
import tomllib
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from droner.errors import MistakesFound
from droner.practice.reading.files import load_patterns, load_session, own_patterns_folder, patterns_folder
from droner.practice.reading.session_reading import read_session
from droner.practice.reading.session_schema import session_schema
from droner.practice.reading.session_table import session_keys
from tests.practice import bad_sessions
from tests.practice.bad_sessions import GOOD
from tests.practice.small_library import SESSION, library

DEMO_SESSIONS = sorted((Path(__file__).parents[2] / "demo_sessions").rglob("*.toml"))
BLIND = frozenset({"minutes = nan", "keys_per_day = 6.0", 'begins = "2026-09-01"', 'keys = ["C major", "c  major"]'})
"""What JSON cannot tell from what is right: it has no nan, no whole number but 6.0, no date, no two ways of writing."""


def seen_by_an_editor(cases: tuple[bad_sessions.Case, ...]) -> list[bad_sessions.Case]:
    return [case for case in cases if case[0] not in BLIND]


@lru_cache(maxsize=1)
def small_schema() -> dict[str, Any]:
    return session_schema(library())


def as_an_editor_sees_it(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: as_an_editor_sees_it(each) for key, each in value.items()}
    if isinstance(value, list):
        return [as_an_editor_sees_it(each) for each in value]
    return value.isoformat() if isinstance(value, date) else value


def accepted(text: str, schema: dict[str, Any] | None = None) -> bool:
    written = as_an_editor_sees_it(tomllib.loads(text))
    return bool(Draft202012Validator(schema or small_schema()).is_valid(written))


def test_the_schema_is_a_schema() -> None:
    Draft202012Validator.check_schema(session_schema(library()))
    assert json.loads(json.dumps(session_schema(load_patterns()))) == session_schema(load_patterns())


GOOD_SESSIONS = (
    SESSION,
    GOOD,
    '[rotation]\nkeys = "circle of fifths, major"\nstart = "F#"\n' + GOOD,
    '[rotation]\nmoves = "by the calendar"\nbegins = 2026-09-01\nvariants = "none"\n' + GOOD,
    'range = ["B flat 3", "F#6"]\n[tuning]\ntemperament = "werckmeister 3"\ntonic_stands = "on the A"\n' + GOOD,
    '[tuning]\nreference = "B flat"\nminor_third = "19/16"\n' + GOOD,
    "sound.guide.level_db = -3.5\n" + GOOD,
    '[[block]]\ndrill = "slow tones"\nkeys = "today"\nvariant = "plain"\n',
    '[[block]]\ndrill = "long scale"\npartner = { kind = "reed-like", cents = 0, role = "hold" }\n',
    '[[block]]\ndrill = "long scale"\nchanges = "cadence"\n[block.partner]\nkind = "warming room"\n',
    '[[block]]\ndrill = "long scale"\nkeys = "f#m"\nvariant = 4\nmeter = "2+2+3/8"\n',
    '[[block]]\ndrill = "long scale"\nkeys = ["D dorian", "E-flat minor", "B flat major"]\nmeter = "6 / 8"\n',
)


@pytest.mark.parametrize("text", GOOD_SESSIONS)
def test_a_good_session_is_good_to_the_reader_and_to_the_editor(text: str) -> None:
    assert read_session(text, "s.toml", library()).blocks
    assert accepted(text)


@pytest.mark.parametrize("case", seen_by_an_editor(bad_sessions.ONE_KEY_AT_THE_TOP), ids=lambda case: case[0])
def test_an_editor_sees_a_wrong_key_at_the_top(case: bad_sessions.Case) -> None:
    assert not accepted(case[0] + GOOD)


@pytest.mark.parametrize("case", seen_by_an_editor(bad_sessions.ONE_KEY_IN_THE_ROTATION), ids=lambda case: case[0])
def test_an_editor_sees_a_wrong_key_in_the_rotation(case: bad_sessions.Case) -> None:
    assert not accepted(f"[rotation]\n{case[0]}\n{GOOD}")


@pytest.mark.parametrize("case", seen_by_an_editor(bad_sessions.ONE_KEY_IN_THE_BLOCK), ids=lambda case: case[0])
def test_an_editor_sees_a_wrong_key_in_a_block(case: bad_sessions.Case) -> None:
    assert not accepted(f"[[block]]\n{case[0]}\n")


@pytest.mark.parametrize("case", bad_sessions.WHOLE_FILES, ids=lambda case: case[0])
def test_an_editor_sees_a_wrong_file(case: bad_sessions.Case) -> None:
    assert not accepted(case[0])


def test_an_editor_completes_the_names_of_the_library() -> None:
    keys = session_schema(library())["properties"]["block"]["items"]["properties"]
    assert keys["drill"]["enum"] == ["slow tones", "long scale", "keeping pitch", "little study", "seventh, then home"]
    assert keys["click"]["enum"] == ["every beat", "after"]


def test_every_key_is_described_in_the_schema() -> None:
    schema = session_schema(library())
    for section, each in session_keys():
        table = schema
        for part in filter(None, section.split(".")):
            table = table["properties"][part]
            table = table.get("items", table)
            table = next((one for one in table.get("anyOf", ()) if "properties" in one), table)
        assert table["properties"][each.key]["description"] == each.about


@pytest.mark.parametrize(
    "path", [path for path in DEMO_SESSIONS if path.parent.name != "patterns"], ids=lambda path: path.name
)
def test_the_demo_sessions_are_good(path: Path) -> None:
    patterns = load_patterns(own_patterns_folder(path))
    assert load_session(path, patterns).blocks
    assert accepted(path.read_text("utf-8"), session_schema(patterns))


def test_the_built_in_session_is_good() -> None:
    text = (patterns_folder() / "session" / "practice.toml").read_text("utf-8")
    assert load_session(None).blocks
    assert accepted(text, session_schema(load_patterns()))


@pytest.mark.parametrize(
    "case", bad_sessions.TOGETHER_IN_THE_BLOCK + bad_sessions.TOGETHER_IN_THE_ROTATION, ids=lambda case: case[0]
)
def test_what_does_not_go_together_is_left_to_the_reader(case: bad_sessions.Case) -> None:
    table = "[[block]]" if case[2].startswith("block") else "[rotation]"
    text = f"{table}\n{case[0]}\n" + (GOOD if table == "[rotation]" else "")
    assert accepted(text)
    with pytest.raises(MistakesFound):
        read_session(text, "s.toml", library())
