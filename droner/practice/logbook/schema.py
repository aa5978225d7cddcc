"""The logbook's tables in SQL, and the steps from each version of them to the next.

Rule    version 0 is an empty file. A version that was ever given out is never changed: its statements stand here in
        full, with their numbers, and a new version adds its own. The checks are those of an entry, so that no program
        can put into the file what droner would not. Rows are only ever added: triggers see to it. (REPLACE removes a
        row without asking a trigger of deletion, so a name or a number that is taken is refused before.)
        Indexes answer what a plan asks of a lifetime: the runs of one drill in their order, without looking into the
        rows; the turns of a session; what was played on some days; which entries correct others.
Units   `number` counts the entries in the order in which they came to this file; the rest as in `entry` and `rows`.
Source  SQLite documentation: "PRAGMA application_id", "PRAGMA user_version", "CREATE TRIGGER", "ON CONFLICT". No table
        is STRICT: SQLite has that since 3.37 only, so each check names the type. "Date And Time Functions": only with
        a modifier is 30 February told from a day that there is.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType

Migrations = Mapping[int, tuple[str, ...]]
"""A version, and the statements that make it of the one before."""
APPLICATION_ID = int.from_bytes(b"drlb", "big")
"""Ours, in the header of the file: how droner, and `file`, tell it from another program's."""

_ENTRY_1 = """
CREATE TABLE entry (
  number INTEGER PRIMARY KEY CHECK (number > 0),
  name TEXT NOT NULL UNIQUE
    CHECK (typeof(name) = 'text' AND length(name) = 32 AND name NOT GLOB '*[^0-9a-f]*'),
  written TEXT NOT NULL
    CHECK (typeof(written) = 'text' AND length(written) = 27 AND written GLOB '*.[0-9][0-9][0-9][0-9][0-9][0-9]Z'
      AND written >= '0001'
      AND strftime('%Y-%m-%dT%H:%M:%S', substr(written, 1, 19), '+0 days') IS substr(written, 1, 19)),
  day TEXT NOT NULL CHECK (typeof(day) = 'text' AND day >= '0001' AND date(day, '+0 days') IS day),
  session TEXT NOT NULL CHECK (typeof(session) = 'text' AND length(session) <= 200 AND instr(session, char(0)) = 0),
  instrument TEXT NOT NULL
    CHECK (typeof(instrument) = 'text' AND length(instrument) <= 200 AND instr(instrument, char(0)) = 0),
  drill TEXT NOT NULL
    CHECK (typeof(drill) = 'text' AND length(drill) BETWEEN 1 AND 200 AND instr(drill, char(0)) = 0),
  key TEXT NOT NULL CHECK (typeof(key) = 'text' AND length(key) <= 200 AND instr(key, char(0)) = 0),
  variant INTEGER NOT NULL CHECK (typeof(variant) = 'integer' AND variant BETWEEN 0 AND 1000000000),
  place INTEGER CHECK (place IS NULL OR (typeof(place) = 'integer' AND place BETWEEN 0 AND 1000000000)),
  bpm TEXT NOT NULL
    CHECK (typeof(bpm) = 'text' AND length(bpm) <= 23 AND bpm GLOB '[1-9]*/[1-9]*'
      AND bpm NOT GLOB '*[^0-9/]*' AND bpm NOT GLOB '*/*/*'
      AND CAST(substr(bpm, instr(bpm, '/') + 1) AS INTEGER) <= 1000000000
      AND CAST(bpm AS INTEGER) <= 1000 * CAST(substr(bpm, instr(bpm, '/') + 1) AS INTEGER)),
  step TEXT NOT NULL CHECK (typeof(step) = 'text' AND length(step) <= 200 AND instr(step, char(0)) = 0),
  clean INTEGER NOT NULL CHECK (typeof(clean) = 'integer' AND clean >= 0),
  total INTEGER NOT NULL CHECK (typeof(total) = 'integer' AND total <= 1000),
  seconds TEXT
    CHECK (seconds IS NULL OR (typeof(seconds) = 'text' AND length(seconds) <= 25 AND seconds GLOB '[0-9]*/[1-9]*'
      AND seconds NOT GLOB '*[^0-9/]*' AND seconds NOT GLOB '*/*/*'
      AND CAST(substr(seconds, instr(seconds, '/') + 1) AS INTEGER) <= 1000000000
      AND CAST(seconds AS INTEGER) <= 86400 * CAST(substr(seconds, instr(seconds, '/') + 1) AS INTEGER))),
  judged TEXT NOT NULL CHECK (judged IN ('by ear', 'by pedal', 'by listening')),
  note TEXT NOT NULL CHECK (typeof(note) = 'text' AND length(note) <= 2000 AND instr(note, char(0)) = 0),
  corrects TEXT NOT NULL
    CHECK (typeof(corrects) = 'text'
      AND (corrects = '' OR (length(corrects) = 32 AND corrects NOT GLOB '*[^0-9a-f]*'))),
  CHECK (clean <= total AND (total > 0 OR corrects <> ''))
)
"""
_CHANGES_1 = """
CREATE TRIGGER entry_never_changes BEFORE UPDATE ON entry
BEGIN SELECT RAISE(ABORT, 'an entry never changes: add one that corrects it'); END
"""
_STAYS_1 = """
CREATE TRIGGER entry_stays BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'an entry stays: add one that takes it back'); END
"""
_IS_NEW_1 = """
CREATE TRIGGER entry_is_new BEFORE INSERT ON entry
WHEN EXISTS (SELECT 1 FROM entry WHERE name = NEW.name OR number = NEW.number)
BEGIN SELECT RAISE(ABORT, 'an entry of this name or number is there already'); END
"""

_RUNS_1 = """
CREATE INDEX entry_runs
  ON entry (instrument, drill, day, written, name, bpm, step, clean, total, key, variant)
"""
_TURNS_1 = """
CREATE INDEX entry_turns ON entry (session, instrument, place, key, variant, day) WHERE place IS NOT NULL
"""
_DAYS_1 = "CREATE INDEX entry_days ON entry (day)"
_CORRECTIONS_1 = "CREATE INDEX entry_corrections ON entry (corrects) WHERE corrects <> ''"

MIGRATIONS: Migrations = MappingProxyType(
    {
        1: (_ENTRY_1, _RUNS_1, _TURNS_1, _DAYS_1, _CORRECTIONS_1, _CHANGES_1, _STAYS_1, _IS_NEW_1),
    }
)


def newest(migrations: Migrations) -> int:
    """The version that these steps lead to."""
    return max(migrations)


def steps(version: int, migrations: Migrations) -> Iterator[str]:
    """The statements from a version to the newest. To be run in one transaction: all or nothing."""
    if version == 0:
        yield f"PRAGMA application_id = {APPLICATION_ID}"
    for later in range(version + 1, newest(migrations) + 1):
        yield from migrations[later]
        yield f"PRAGMA user_version = {later}"
