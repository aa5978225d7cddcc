"""Read a text as TOML, and say in plain words where it breaks the rules.

Rule    the standard reader stops at the first slip. Where the slip is a value on one line, that value is set
        aside as UNREADABLE and the reading goes on, so that the other mistakes of the file show in the same run.
        Where it could change which table the following lines belong to, nothing more is read.
Source  TOML 1.0.0 through Python's `tomllib`.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from typing import Any

from droner.practice.reading.fields import UNREADABLE
from droner.practice.reading.sheet_reading import Place, Sheet
from droner.practice.reading.shown_fields import printable
from droner.practice.reading.syntax_table import SLIPS, WORDS
from droner.practice.reading.toml_places import TomlPath, path_at, places

MOST_SLIPS = 50
"""Lines that are set aside before the rest of a file is given up."""
_PLACE = re.compile(r" \(at (?:line (?P<line>\d+), column \d+|end of document)\)$")
_PAIR = re.compile(r"""^\s*(?P<key>[A-Za-z0-9_.-]+|"[^"\\]*"|'[^']*')\s*[=:]""")
_OPENS = re.compile(r"""=\s*(\[|\{|"{3}|'{3}|"[^"]*$|'[^']*$)""")
_BEGINS = re.compile(r"""\s*[\w"'\[]""")
_UNCLOSED = ("Unclosed", "Unterminated", "Expected \"'")
_HUGE = re.compile(r"[\d_]{1000,}")
_SET_ASIDE = UNREADABLE.replace("\x00", "\\u0000")


def read_toml(sheet: Sheet) -> dict[str, Any] | None:
    """The data of a sheet, its slips reported; None when too little of it is TOML."""
    lines = sheet.text.split("\n")
    for _ in range(MOST_SLIPS):
        try:
            return tomllib.loads("\n".join(lines))
        except tomllib.TOMLDecodeError as error:
            message = _PLACE.sub("", str(error))
            line = _line_of(error, message, lines)
            _report(sheet, line, message, lines[line - 1])
            if not _set_aside(line, message, lines):
                return None
        except RecursionError:
            Place(sheet).wrong("brackets stand in brackets far too deep", allowed="one list in another at most")
            return None
        except ValueError:
            _report_huge_number(sheet)
            return None
    return None


def table(data: Mapping[str, Any], name: str) -> Mapping[str, Any]:
    """A table as it stands in the data; {} when there is none, or something else in its place."""
    found = data.get(name)
    return found if isinstance(found, dict) else {}


def _line_of(error: tomllib.TOMLDecodeError, message: str, lines: list[str]) -> int:
    """The line to show: where the reader stopped, or where the thing starts that was never closed."""
    found = _PLACE.search(str(error))
    line = int(found["line"]) if found and found["line"] else _last_written(lines)
    if message.startswith(_UNCLOSED):
        return next((at for at in range(line, 0, -1) if _OPENS.search(lines[at - 1])), line)
    return line


def _last_written(lines: list[str]) -> int:
    """The last line with anything on it."""
    return max((number for number, line in enumerate(lines, 1) if line.strip()), default=1)


def _report(sheet: Sheet, line: int, message: str, written: str) -> None:
    problem, allowed = _in_plain_words(message, written)
    path = path_at(sheet.places(), line) or _second_path(sheet.text, line)
    here = Place(sheet, path if _BEGINS.match(written) else ())
    here.wrong(problem, found=printable(written.strip()), allowed=allowed, line=line)


def _second_path(text: str, line: int) -> TomlPath:
    """The path of a line whose key was already written above: that of the line under its header alone."""
    lines = text.split("\n")
    alone = [each if number == line or each.startswith("[") else "" for number, each in enumerate(lines, 1)]
    return path_at(places("\n".join(alone)), line)


def _in_plain_words(message: str, written: str) -> tuple[str, str]:
    """The reason: what the reader is sure of, else a usual slip seen in the line, else the reader's reason."""
    known = [(problem, allowed) for start, problem, allowed in WORDS if message.startswith(start)]
    if known and message.startswith(("Cannot", "Duplicate", "Unclosed")):
        return known[0]
    slips = ((problem, allowed) for sign, problem, allowed in SLIPS if re.search(sign, written))
    return next(slips, known[0] if known else (f"this is not TOML: {message}", "TOML"))


def _set_aside(line: int, message: str, lines: list[str]) -> bool:
    """Put a readable line in the place of the broken one. False when that would not be safe."""
    written = lines[line - 1]
    if not written.strip() or _SET_ASIDE in written or not _stands_alone(line, message, lines):
        return False
    pair = _PAIR.match(written)
    keeps_key = pair and not message.startswith("Cannot overwrite")
    lines[line - 1] = f'{pair["key"]} = "{_SET_ASIDE}"' if pair and keeps_key else ""
    return True


def _stands_alone(line: int, message: str, lines: list[str]) -> bool:
    """Whether a line is one pair by itself: no header, and nothing in it goes on in the next line."""
    written = lines[line - 1]
    if written.lstrip().startswith("[") or '"""' in written or "'''" in written:
        return False
    if message.startswith(("Cannot declare", "Cannot mutate", "Unclosed array")):
        return False
    if message.startswith("Unclosed inline table"):
        return not _goes_on(written, next(filter(str.strip, lines[line:]), ""))
    return written.count("{") == written.count("}") and written.count("[") == written.count("]")


def _goes_on(written: str, following: str) -> bool:
    """Whether an open brace is meant to be closed further below."""
    below = following.strip()
    return written.rstrip().endswith(("{", ",")) or below.startswith("}") or below.endswith(",")


def _report_huge_number(sheet: Sheet) -> None:
    huge = _HUGE.search(sheet.text)
    line = sheet.text.count("\n", 0, huge.start()) + 1 if huge else 0
    Place(sheet).wrong("a number has far too many figures", allowed="numbers of a usual size", line=line)
