"""Recheck a certificate of the rotation from its file alone, and hold it against a logbook.

Rule    the facts are read, and everything else is reckoned again from them: each line must then be what it is, to the
        byte. What does not follow is told with its line. The sum comes first: it says whether the file is still the one
        that was made.
Source  the recipe in the file itself, see `certificate`.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import TYPE_CHECKING

from droner.practice.certificate import Certificate, Play, json_line, rows_of, sum_row
from droner.practice.certificate_mistakes import Mistakes, mistake_in
from droner.practice.certificate_reading import Row, certificate_in, lines_of
from droner.practice.logbook.effective import effective

if TYPE_CHECKING:
    from droner.errors import Mistake
    from droner.practice.logbook.entry import Entry


def recheck(data: bytes, file: str) -> Certificate:
    """What a file certifies. MistakesFound with all that does not agree."""
    mistakes = Mistakes(file, _changed(data, file))
    lines = lines_of(data, mistakes)
    certificate = certificate_in(lines, mistakes)
    _compare(certificate, lines, mistakes)
    mistakes.raise_if_any(at_last=True)
    return certificate


def _changed(data: bytes, file: str) -> Mistake | None:
    """What the sum tells; None where it agrees, and where there is no sum to ask."""
    body, last = data[: data.rfind(b"\n", 0, -1) + 1], data[data.rfind(b"\n", 0, -1) + 1 :]
    try:
        told = json.loads(last)
    except (ValueError, RecursionError):
        return None
    if not isinstance(told, dict) or told.get("line") != "sum" or not isinstance(told.get("sha256"), str):
        return None
    asked = sum_row(body)["sha256"]
    problem = "this file was changed after it was made: the lines before have another sum"
    return (
        None
        if told["sha256"] == asked
        else mistake_in(file, data.count(b"\n"), "sha256", problem, told["sha256"], asked)
    )


def _compare(certificate: Certificate, lines: Sequence[str], mistakes: Mistakes) -> None:
    """Every line against what it should be."""
    rows = [*rows_of(certificate)]
    rows.append(sum_row("".join(f"{line}\n" for line in lines[:-1]).encode("ascii")))
    if len(rows) != len(lines):
        mistakes.add(0, "", "the number of lines is not what it should be", len(lines), len(rows))
    for number, (line, row) in enumerate(zip(lines, rows, strict=False), 1):
        if line != json_line(row):
            _differs(number, json.loads(line), row, mistakes)


def _differs(number: int, found: Row, asked: Row, mistakes: Mistakes) -> None:
    keys = [key for key in dict.fromkeys((*asked, *found)) if found.get(key) != asked.get(key)]
    for key in keys:
        if (asked["line"], key) != ("sum", "sha256"):  # else it is told already
            mistakes.add(
                number, key, "this does not follow from the other lines", found.get(key, ""), asked.get(key, "")
            )
    if not keys:
        mistakes.add(number, "", "the line is not written as droner writes it", json.dumps(found), json_line(asked))


def hold_against(certificate: Certificate, entries: Sequence[Entry], file: str, logbook: str) -> None:
    """Look whether the entries still hold that a certificate names. MistakesFound with those that do not.

    `entries`: all that were ever made, corrected ones too; a correction that leaves the turn and the day as they were
    takes nothing away.
    """
    mistakes = Mistakes(file)
    named = {play.entry for plays in certificate.plays.values() for play in plays}
    if named and named.isdisjoint(entry.name for entry in entries):
        mistakes.add(0, "", f"in {logbook} none of its {len(named)} entries is there: it is another logbook")
        mistakes.raise_if_any()
    holding, known = _by_every_name(entries), {entry.name for entry in entries}
    for place in certificate.places:
        for play in certificate.plays.get(place, ()):
            entry = holding.get(play.entry)
            if entry is None:
                gone = "was taken back" if play.entry in known else "is not there"
                mistakes.add(certificate.line_of(place), "played", f"in {logbook} this entry {gone}", play.entry)
            elif _told(certificate, place, play) != _written(entry):
                asked = "; ".join(map(str, _written(entry)))
                problem = f"in {logbook} this entry says something else"
                mistakes.add(certificate.line_of(place), "played", problem, play.entry, asked)
    mistakes.raise_if_any()


def _by_every_name(entries: Sequence[Entry]) -> dict[str, Entry]:
    """The entries that hold, by their own names and by those of all that they have taken the place of."""
    named = {entry.name: entry for entry in entries}
    found: dict[str, Entry] = {}
    for entry in effective(entries):
        name = entry.name
        while name in named and name not in found:
            found[name] = entry
            name = named[name].corrects
    return found


def _told(certificate: Certificate, place: int, play: Play) -> tuple[object, ...]:
    key, _ = certificate.turn(place)
    return certificate.session, certificate.instrument, play.drill, key, play.variant, place, play.day


def _written(entry: Entry) -> tuple[object, ...]:
    return entry.session, entry.instrument, entry.drill, entry.key, entry.variant, entry.place, entry.day
