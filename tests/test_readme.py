"""The documents cannot lie: every output in the README is what the command prints, every key and command is in it.

Referee  the program itself, run as a reader would run it.
"""

from __future__ import annotations

import re
from pathlib import Path

from droner.cli.command_table import COMMANDS
from droner.practice.reading.session_table import session_keys
from tests.readme import README, refreshed

ROOT = README.parent
TEXT = README.read_text(encoding="utf-8")


def test_every_output_in_the_readme_is_what_the_command_prints() -> None:
    assert refreshed(TEXT) == TEXT, "run: python tests/readme.py"


def test_the_readme_shows_every_command() -> None:
    missing = [name for name in COMMANDS if f"droner {name}" not in TEXT]
    assert not missing


def test_the_readme_explains_every_session_key_under_its_table() -> None:
    tables = dict(re.findall(r"\*\*(.+?)\*\*\n\n((?:\|.*\n)+)", TEXT))
    explained = {
        (heading, key) for heading, rows in tables.items() for key in re.findall(r"^\| `(\w+)`", rows, re.MULTILINE)
    }
    for section, field in session_keys():
        headings = [heading for heading, key in explained if key == field.key]
        wanted = section or "At the top"
        assert any(wanted in heading for heading in headings), f"{section}.{field.key}"


def test_every_link_of_the_documents_leads_to_a_file() -> None:
    for document in ("README.md", "DEVELOPERS.md"):
        text = (ROOT / document).read_text(encoding="utf-8")
        links = [link for link in re.findall(r"\]\(([^)#]+)\)", text) if "://" not in link]
        missing = [link for link in links if not (ROOT / link).exists()]
        assert not missing, document


def test_every_file_that_the_guide_names_is_there() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    folders = ("", "droner/", "droner/practice/", "tests/benchmarks/")
    named = [name for name in re.findall(r"`([\w/]+\.(?:py|toml))`", text) if "NAME" not in name]
    missing = [name for name in named if not any(Path(ROOT / folder / name).exists() for folder in folders)]
    assert named
    assert not missing
