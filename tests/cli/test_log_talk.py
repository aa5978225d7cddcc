"""Tell in talk and in few words how a day went, and at what tempo: what is meant is understood, or asked for.

Referee what a player of these words means, written beside them; tempos are worked by hand. The player is invented.
"""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from tests.cli.diary import LADDER, last, on, plan, talk
from tests.cli.programs import DRONER, droner_in, surroundings


@pytest.fixture
def stand(tmp_path: Path) -> Path:
    """A folder with a session whose rotation moves by what is written down."""
    (tmp_path / "practice.toml").write_text(LADDER, encoding="utf-8")
    return tmp_path


def test_the_day_is_written_down_in_talk(stand: Path) -> None:
    told = talk(stand, "what?\n4/5 at 66, tongue late\n=\n", on(0), "--json")
    assert told.code == 0, told.err
    first, second = told.data
    assert (first["clean"], first["total"], first["tempo_bpm"], first["note"]) == (4, 5, 66, "tongue late")
    assert (second["clean"], second["total"]) == (1, 1)
    assert "'what?' is not" in told.err
    assert "thirds" in told.err


@pytest.mark.parametrize(
    ("said", "entries"),
    [
        ("= at 66\n=, easy\n", [(1, 1, 66, ""), (1, 1, 60, "easy")]),
        ("=at 66\n?\n2/3 , late\n", [(2, 3, 60, "late")]),
        ("q\n1/1\n", []),
        ("1/1\nend\n", [(1, 1, 60, "")]),
        ("?\n=  at 62.5, a, b\nq\n", [(1, 1, 62.5, "a, b")]),
    ],
)
def test_what_may_be_said_in_talk(stand: Path, said: str, entries: list[tuple[int, int, float, str]]) -> None:
    (stand / "practice.toml").write_text(f'{LADDER}variant = "plain"\n', encoding="utf-8")
    told = talk(stand, said, on(0), "--json")
    assert told.code == 0, told.err
    made = told.data if told.out else []
    assert [(one["clean"], one["total"], one["ladder_bpm"], one["note"]) for one in made] == entries
    assert ("as many runs as planned" in told.err) == ("?" in said)


def test_what_may_be_a_slip_is_remarked_on_and_kept(stand: Path) -> None:
    (stand / "practice.toml").write_text(f'{LADDER}variant = "plain"\n', encoding="utf-8")
    fast = droner_in(stand, "log", "1-2", "1/1", "--tempo", "500", on(0))
    assert "500 is far from 60 in the plan (item 1, and 1 more)" in fast.err
    twice = droner_in(stand, "log", "1-2", "1/1", "2", "2/3", on(1))
    assert "Item 2 is told more than once" in twice.err
    assert (fast.code, twice.code, len(last(stand))) == (0, 0, 5)
    assert "500 is far from" in talk(stand, "1/1 at 500\n", on(2)).err
    assert droner_in(stand, "log", "1-2", "1/1", "--tempo", "119", on(3)).err == ""


@pytest.mark.parametrize(
    ("words", "item"),
    [(["2"], "2"), (["1-2", "3/3", "2"], "2"), (["1", "2"], "1"), (["practice.toml", "1,2"], "1,2")],
)
def test_an_item_without_runs_is_asked_for_them(stand: Path, words: list[str], item: str) -> None:
    told = droner_in(stand, "log", *words, on(0))
    assert (told.code, told.out) == (2, "")
    assert f"Item {item}: how many runs were clean, of how many? droner log {item} 2/3" in told.err
    assert last(stand) == []


def test_a_session_may_have_a_number_for_its_name(stand: Path) -> None:
    (stand / "2").write_text(LADDER, encoding="utf-8")
    assert droner_in(stand, "log", "2", "1", "1/1", on(0)).code == 0


def test_what_was_told_stays_when_the_talk_breaks_off(stand: Path) -> None:
    assert talk(stand, "1/1\n", on(0)).code == 0  # the end of what is said
    assert len(last(stand)) == 1
    assert talk(stand, "", on(0)).code == 0
    again = talk(stand, "1/1\n", on(0))
    assert "written down already" in again.err
    assert len(last(stand)) == 2


def test_a_closed_stdin_is_the_end_of_the_talk(stand: Path) -> None:
    told = subprocess.run(
        ["sh", "-c", 'exec "$@" <&-', "sh", *DRONER, "log", on(0)],
        cwd=stand,
        env=surroundings(),
        capture_output=True,
        text=True,
        check=False,
    )
    assert told.returncode == 0
    assert "Traceback" not in told.stderr


def test_a_dense_rhythm_is_told_as_it_was_played(stand: Path) -> None:
    """Sevens at 60 are played at 34: who says 34 means the rung 60."""
    text = LADDER + 'variant = "plain"\n'.replace('"plain"', str(_sevens(stand)))
    (stand / "practice.toml").write_text(text, encoding="utf-8")
    item = plan(stand, 0)["items"][0]
    assert item["tempo_bpm"] < item["ladder"]["tempo_bpm"] == 60
    (entry,) = droner_in(stand, "log", "1", "1/1", "--tempo", f"{item['tempo_bpm']:g}", on(0), "--json").data
    assert (entry["tempo_bpm"], entry["ladder_bpm"]) == (item["tempo_bpm"], 60)


def test_a_tempo_is_shown_as_it_was_told_with_the_ladder_s_beside_it(stand: Path) -> None:
    """Seven notes in a beat instead of four: 40 played are 70 written (40 x 7/4); 35 are not below the rung of 34."""
    (stand / "practice.toml").write_text(f"{LADDER}variant = {_sevens(stand)}\n", encoding="utf-8")
    for ahead, (told, ladder) in enumerate([(40, 70), (41, 71.75), (33, 57.75), (62.5, 109.375)]):
        words = ("1", "1/1", "--tempo", f"{told:g}", on(ahead))
        page = droner_in(stand, "log", *words)
        head, row = page.lines
        assert head.split()[5:8] == ["tempo", "ladder", "clean"]
        assert row.split()[-3:] == [f"{told:g}", f"{ladder:.1f}".removesuffix(".0"), "1/1"], page.out
        (entry,) = last(stand, 1)
        assert (entry["tempo_bpm"], entry["ladder_bpm"]) == (told, ladder)
        (corrected,) = droner_in(stand, "log", "--correct", entry["name"], "--tempo", "48", "--json").data
        assert (corrected["tempo_bpm"], corrected["ladder_bpm"]) == (48, 84)


def test_where_nothing_slows_the_beat_one_tempo_is_shown(stand: Path) -> None:
    (stand / "practice.toml").write_text(f'{LADDER}variant = "plain"\n', encoding="utf-8")
    head, row = droner_in(stand, "log", "1", "1/1", "--tempo", "71", on(0)).lines
    assert "ladder" not in head
    assert row.split()[-2:] == ["71", "1/1"]


def test_an_entry_of_patterns_that_are_not_here_shows_the_ladder_s_tempo_alone(stand: Path) -> None:
    droner_in(stand, "log", "1", "1/1", on(0))
    droner_in(stand, "log", "--export", "all.jsonl")
    lines = (stand / "all.jsonl").read_text(encoding="utf-8").replace('"thirds"', '"another\'s own"')
    (stand / "theirs.jsonl").write_text(lines.replace('"name": "', '"name": "').replace('"60"', "60"), encoding="utf-8")
    theirs = {"DRONER_LOGBOOK": str(stand / "theirs.logbook")}
    assert droner_in(stand, "log", "--import", "theirs.jsonl", environment=theirs).code == 0
    (entry,) = droner_in(stand, "log", "--last", "1", "--json", environment=theirs).data
    assert (entry["tempo_bpm"], entry["ladder_bpm"]) == (None, 60)
    assert droner_in(stand, "log", "--last", "1", environment=theirs).code == 0


def _sevens(folder: Path) -> int:
    variants = droner_in(folder, "patterns", "variants", "--json").data["variants"]
    return next(int(row["number"]) for row in variants if row["rhythm"] == "even in seven")
