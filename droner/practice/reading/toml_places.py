"""Tell on which line of a TOML text each value stands, which the standard reader does not say.

Rule    a path is the way into the parsed data, lists counted from 0: ("block", 1, "drill"). The scanner walks
        the text once, trusts it to be TOML, and never fails: where a text is odd it goes on at the next
        sign, and a path it did not see takes the line of the nearest table around it.
Units   lines count from 1; 0 means no line can be named.
Source  TOML 1.0.0: keys, strings, arrays, inline tables, arrays of tables.
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_right
from collections.abc import Mapping
from contextlib import suppress

MOST_PARTS = 32
"""Parts of one dotted key that are told apart; no file written by hand has so many."""
TomlPath = tuple[str | int, ...]
"""The way to a value: keys of tables and places in lists."""

_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_STRING = re.compile(
    r'"""(?:[^"\\]|\\.|"{1,2}(?!"))*"{3,5}'
    r"|'''(?:[^']|'{1,2}(?!'))*'{3,5}"
    r'|"(?:[^"\\\n]|\\.)*"'
    r"|'[^'\n]*'",
    re.DOTALL,
)
_KEY = re.compile(r"""(?P<bare>[\w-]+)|"(?P<basic>(?:[^"\\\n]|\\.)*)"|'(?P<literal>[^'\n]*)'""")
_BARE_VALUE = re.compile(r"[^,\]}#\n]*")


def places(text: str) -> Mapping[TomlPath, int]:
    """The line of every table, list, list member and value of a TOML text."""
    scanner = _Scanner(text)
    with suppress(RecursionError):  # brackets nested beyond all sense: what was seen so far names a table
        scanner.walk()
    return scanner.found


def line_of(found: Mapping[TomlPath, int], path: TomlPath) -> int:
    """The line of a path, or of the nearest table around it; 0 when none is known."""
    for length in range(len(path), 0, -1):
        if path[:length] in found:
            return found[path[:length]]
    return 0


def path_at(found: Mapping[TomlPath, int], line: int) -> TomlPath:
    """The outermost path that starts on a line; () when none does."""
    return min((path for path, place in found.items() if place == line), key=len, default=())


class _Scanner:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.found: dict[TomlPath, int] = {}
        self._starts = [0, *(end.end() for end in re.finditer("\n", text))]
        self._counts: dict[TomlPath, int] = {}
        """Members so far of each array of tables."""

    def walk(self) -> None:
        table: TomlPath = ()
        while self._skip(_BLANK) < len(self.text):
            before = self.at
            if self._take("[["):
                table = self._array_header()
            elif self._take("["):
                table = self._header()
            else:
                self._pair(table)
            self.at = max(self.at, before + 1)

    def _array_header(self) -> TomlPath:
        array = self._inside(self._keys())
        number = self._counts.get(array, -1) + 1
        self._counts[array] = number
        self._note(array)
        self._note((*array, number))
        self._rest_of_line()
        return (*array, number)

    def _header(self) -> TomlPath:
        table = self._into_last(self._inside(self._keys()))
        self._note(table)
        self._rest_of_line()
        return table

    def _inside(self, keys: TomlPath) -> TomlPath:
        """The path that a header means: an array of tables stands for its last member, except at the end."""
        path: TomlPath = ()
        for key in keys:
            path = (*self._into_last(path), key)
            self._note(path)
        return path

    def _into_last(self, path: TomlPath) -> TomlPath:
        return (*path, self._counts[path]) if path in self._counts else path

    def _pair(self, table: TomlPath) -> None:
        line = self._line()
        keys = self._keys()
        for length in range(1, len(keys) + 1):
            self.found.setdefault((*table, *keys[:length]), line)
        self._skip(_SPACE)
        if keys and self._take("="):
            self._skip(_SPACE)
            self._value((*table, *keys))

    def _value(self, path: TomlPath) -> None:
        string = _STRING.match(self.text, self.at)
        if string:
            self.at = string.end()
        elif self._take("["):
            self._list(path)
        elif self._take("{"):
            self._inline(path)
        else:
            self._skip(_BARE_VALUE)

    def _list(self, path: TomlPath) -> None:
        number = 0
        while self._skip(_BLANK) < len(self.text) and not self._take("]"):
            if self._take(","):
                continue
            before = self.at
            self._note((*path, number))
            self._value((*path, number))
            self.at = max(self.at, before + 1)
            number += 1

    def _inline(self, path: TomlPath) -> None:
        while self._skip(_BLANK) < len(self.text) and not self._take("}"):
            before = self.at
            if not self._take(","):
                self._pair(path)
            self.at = max(self.at, before + 1)

    def _keys(self) -> TomlPath:
        """A dotted key, each part without its quotes."""
        keys: list[str] = []
        self._skip(_SPACE)
        while part := _KEY.match(self.text, self.at):
            self.at = part.end()
            if len(keys) < MOST_PARTS:
                keys.append(_plain_key(part))
            self._skip(_SPACE)
            if not self._take("."):
                break
            self._skip(_SPACE)
        return tuple(keys)

    def _rest_of_line(self) -> None:
        end = self.text.find("\n", self.at)
        self.at = len(self.text) if end < 0 else end

    def _note(self, path: TomlPath) -> None:
        self.found.setdefault(path, self._line())

    def _line(self) -> int:
        return bisect_right(self._starts, self.at)

    def _skip(self, what: re.Pattern[str]) -> int:
        found = what.match(self.text, self.at)
        self.at = found.end() if found else self.at
        return self.at

    def _take(self, sign: str) -> bool:
        taken = self.text.startswith(sign, self.at)
        self.at += len(sign) * taken
        return taken


def _plain_key(part: re.Match[str]) -> str:
    basic = part["basic"]
    if basic is None:
        return part["bare"] or part["literal"] or ""
    if "\\" not in basic:
        return basic
    try:
        return str(tomllib.loads(f'key = "{basic}"')["key"])
    except tomllib.TOMLDecodeError:
        return basic
