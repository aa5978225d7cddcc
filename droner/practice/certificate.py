"""Write down what was played of a cycle, so that anyone can count it again without droner.

Rule    JSON Lines: one object a line, in ASCII, each with its kind under "line". First who and when, then the rule with
        its numbers, how to recheck it, the keys, the variants, the drills, every turn of the cycle in order, played or
        not, the counts, and a sum over all the lines before. Nothing is left out of an incomplete one.
        The same facts give the same bytes.
Units   places, indexes of keys and of variants count from 0; the cycle and the rows of variants from 1, as shown.
Source  JSON Lines; FIPS 180-4, SHA-256.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from hashlib import sha256
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from datetime import date

    from droner.practice.coverage import Coverage, Follower
    from droner.practice.rotation import Rotation

VERSION = 1
RECIPE = (
    "Every line is one JSON object in ASCII and ends with a line feed.",
    "Lines of keys, and lines of variants, stand in the order of their indexes, from 0.",
    "Turn i of the cycle, from 0, has the place first_place + i and the key of index i mod keys.",
    "Its variant has the index (i div keys + offset of that key) mod variants; div divides without a remainder.",
    "A turn's line gives its key by name and its variant by number.",
    "Put the pairs of key and variant of all turns into a set: keys x variants of them, and no pair is left out.",
    "Where a turn names a drill under played, the logbook has an entry of that name, for that turn, on that day.",
    "All other drills stand under missing. No entry stands twice in the file.",
    "A turn is played if any drill has played it; played by all if none is missing.",
    "Count the turns that are played, and compare the line of counts.",
    "The sum is the SHA-256, in hexadecimal, of all bytes before the last line: sed '$d' FILE | sha256sum",
    "The sum shows that nothing was changed by accident. It cannot show that the entries are true.",
    "Only the logbook shows that: droner rotation --recheck FILE --logbook LOGBOOK",
)
"""How to recheck a certificate, a sentence a row."""
HEAD_LINES = 3
TURNING = "the variant of the turn"


@dataclass(frozen=True, slots=True)
class Play:
    """That a drill has played a turn: in which variant, on which day, by which entry of the logbook."""

    drill: str
    variant: int
    day: date
    entry: str


@dataclass(frozen=True, slots=True)
class Certificate:
    """The facts: everything else in the file follows from them.

    `variants`: their numbers and what they are. `plays`: by place, in the order of the followers.
    """

    session: str
    instrument: str
    day: date
    walk: Rotation
    cycle: int
    keys: tuple[str, ...]
    variants: tuple[tuple[int, str], ...]
    followers: tuple[Follower, ...]
    plays: Mapping[int, tuple[Play, ...]]

    @property
    def places(self) -> range:
        """The places of its cycle."""
        return range(self.cycle * self.walk.cycle, (self.cycle + 1) * self.walk.cycle)

    def turn(self, place: int) -> tuple[str, int]:
        """The key and the number of the variant at a place."""
        key, variant = self.walk.pair(place)
        return self.keys[key], self.variants[variant][0]

    @property
    def played(self) -> int:
        """How many turns any drill has played."""
        return sum(bool(self.plays.get(place)) for place in self.places)

    @property
    def played_by_all(self) -> int:
        """How many turns every drill has played."""
        return sum(bool(self.followers) and not self.missing(place) for place in self.places)

    def line_of(self, place: int) -> int:
        """The line of the file in which a turn stands, from 1."""
        before = HEAD_LINES + len(self.keys) + len(self.variants) + len(self.followers)
        return before + place - self.places.start + 1

    def missing(self, place: int) -> list[str]:
        """The drills that have not played a turn."""
        played = {play.drill for play in self.plays.get(place, ())}
        return [follower.drill for follower in self.followers if follower.drill not in played]


def certificate_of(coverage: Coverage, day: date, variant_words: Mapping[int, str]) -> Certificate:
    """The certificate of a cycle on a day. `variant_words`: what each variant is, by its number."""
    asked = coverage.asked
    return Certificate(
        asked.title,
        asked.instrument,
        day,
        asked.walk,
        coverage.cycle,
        asked.keys,
        tuple((number, variant_words[number]) for number in asked.variants),
        asked.followers,
        {
            turn.place: tuple(Play(one.drill, one.variant, one.day, one.name) for one in turn.firsts if one)
            for turn in coverage.turns
            if turn.is_played
        },
    )


def text_of(certificate: Certificate) -> str:
    """The file."""
    body = "".join(f"{json_line(row)}\n" for row in rows_of(certificate))
    return f"{body}{json_line(sum_row(body.encode('ascii')))}\n"


def json_line(row: Mapping[str, Any]) -> str:
    """A line of the file, without its end."""
    return json.dumps(row, ensure_ascii=True, allow_nan=False)


def sum_row(body: bytes) -> dict[str, Any]:
    """The last line, for all that stands before it."""
    return {"line": "sum", "sha256": sha256(body).hexdigest()}


def rows_of(certificate: Certificate) -> Iterator[dict[str, Any]]:
    """All lines but the last."""
    yield {
        "line": "certificate",
        "of": "a rotation",
        "version": VERSION,
        "made_by": "droner",
        "session": certificate.session,
        "instrument": certificate.instrument,
        "day": certificate.day.isoformat(),
    }
    yield _rule(certificate)
    yield {"line": "recheck", "how": list(RECIPE)}
    for key, name in enumerate(certificate.keys):
        yield {"line": "key", "index": key, "name": name, "offset": certificate.walk.offsets[key]}
    for variant, (number, words) in enumerate(certificate.variants):
        yield {"line": "variant", "index": variant, "number": number, "is": words}
    for follower in certificate.followers:
        plays = [*([TURNING] if follower.turning else []), *follower.own]
        yield {"line": "drill", "name": follower.drill, "plays": plays}
    for place in certificate.places:
        yield _turn(certificate, place)
    yield _counts(certificate)


def _rule(certificate: Certificate) -> dict[str, Any]:
    walk = certificate.walk
    return {
        "line": "rule",
        "keys": walk.keys,
        "variants": walk.variants,
        "turns": walk.cycle,
        "cycle": certificate.cycle + 1,
        "first_place": certificate.places.start,
        "offsets": list(walk.offsets),
        "in_words": walk.rule,
    }


def _turn(certificate: Certificate, place: int) -> dict[str, Any]:
    key, variant = certificate.turn(place)
    return {
        "line": "turn",
        "place": place,
        "key": key,
        "variant": variant,
        "played": [
            {"drill": play.drill, "variant": play.variant, "day": play.day.isoformat(), "entry": play.entry}
            for play in certificate.plays.get(place, ())
        ],
        "missing": certificate.missing(place),
    }


def _counts(certificate: Certificate) -> dict[str, Any]:
    plays = [play for place in certificate.places for play in certificate.plays.get(place, ())]
    days = sorted({play.day for play in plays})
    turns, played, by_all = certificate.walk.cycle, certificate.played, certificate.played_by_all
    drills = [follower.drill for follower in certificate.followers]
    return {
        "line": "counts",
        "turns": turns,
        "different_pairs": len({certificate.turn(place) for place in certificate.places}),
        "played": played,
        "played_by_all": by_all,
        "not_played": turns - played,
        "by_drill": {drill: sum(play.drill == drill for play in plays) for drill in drills},
        "days": len(days),
        "first_day": days[0].isoformat() if days else None,
        "last_day": days[-1].isoformat() if days else None,
        "in_words": in_words(certificate),
    }


def in_words(certificate: Certificate) -> str:
    """What it certifies: how much of the cycle is played."""
    turns, played, by_all = certificate.walk.cycle, certificate.played, certificate.played_by_all
    left = {0: "none is missing", 1: "1 is missing"}.get(turns - played, f"{turns - played} are missing")
    every = "each by every drill" if played == by_all else f"{by_all} of them by every drill"
    told = f"{every} that follows the rotation; " if played else ""
    return f"{played} of {turns} turns of cycle {certificate.cycle + 1} are played, {told}{left}."
