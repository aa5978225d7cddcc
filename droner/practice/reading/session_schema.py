"""Give an editor the rules of a session file as JSON Schema, so that it completes names and marks slips.

Rule    made from the same table of keys that the reader uses, with the names of the library as it stands. An
        editor checks key by key; what does not go together is left to the reader. Names are offered as the
        library writes them; the reader also takes other capitals.
Source  JSON Schema draft 2020-12.
"""

from __future__ import annotations

from typing import Any

from droner.practice.pattern import Patterns
from droner.practice.reading.session_reading import session_shelves
from droner.practice.reading.session_table import SESSION

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def session_schema(patterns: Patterns) -> dict[str, Any]:
    """The schema of session files over a library of patterns."""
    head = {"$schema": DIALECT, "title": "droner session", "description": "A player's standing order for practice."}
    return head | SESSION.schema(session_shelves(patterns))
