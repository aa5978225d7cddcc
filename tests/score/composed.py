"""Compose one item from a block as a player types it, for the tests of the score. The blocks are invented."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from hypothesis import reject

from droner.practice.items import PLAIN, Items
from droner.practice.layout.line import DoesNotFit
from droner.practice.pattern import Patterns, Variant
from droner.practice.reading.files import file_text, load_patterns, patterns_folder
from droner.practice.reading.pattern_reading import read_patterns
from droner.practice.reading.session_reading import read_session
from droner.practice.session import Session
from droner.score.compose import compose
from droner.theory.key import key as read_key

if TYPE_CHECKING:
    from fractions import Fraction

    from droner.practice.item import Item
    from droner.score.score import Score, SoloNote

BLACK_AND_WHITE = ("C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B")
MAJOR_KEYS = tuple(f"{tonic} major" for tonic in BLACK_AND_WHITE)
MINOR_KEYS = tuple(f"{tonic} minor" for tonic in ("C", "C#", "D", "Eb", "E", "F", "F#", "G", "G#", "A", "Bb", "B"))


@dataclass(frozen=True)
class Composed:
    """An item, its session, its score."""

    item: Item
    session: Session
    score: Score


@lru_cache(maxsize=64)
def patterns(own: str = "") -> Patterns:
    """Droner's patterns, and the player's own in the text of a pattern file."""
    if not own:
        return load_patterns()
    ours = [(path.name, file_text(path)) for path in sorted(patterns_folder().glob("*.toml"))]
    return read_patterns([*ours, ("own.toml", own)])


def manner(
    rhythm: str = PLAIN.rhythm,
    articulation: str = PLAIN.articulation,
    dynamic: str = PLAIN.dynamic,
    accent: str = PLAIN.accent,
    click: str = PLAIN.click,
    turn: str = PLAIN.turn,
) -> Variant:
    """One way to play, by the names of its factors; what is not named is plain."""
    return Variant(1, rhythm, articulation, dynamic, accent, click, turn)


def rows() -> tuple[Variant, ...]:
    """The sixty rows of the table."""
    return patterns().variants


def rows_in_keys(keys: tuple[str, ...] = MAJOR_KEYS + MINOR_KEYS, step: int = 1) -> list[tuple[str, Variant]]:
    """Every row of the table, or every `step`th, each in the next of the keys."""
    return [(keys[place % len(keys)], row) for place, row in enumerate(rows()[::step])]


def composed(
    block: str, *, key: str | None = "C major", played: Variant | None = None, top: str = "", own: str = ""
) -> Composed:
    """The score of a block. `top` stands before it in the session, `own` is a file of the player's patterns."""
    session, item = _laid_out(block, key, played, top, own)
    assert not isinstance(item, DoesNotFit), str(item)
    return Composed(item, session, compose(item, session))


def drawn(
    block: str, *, key: str | None = "C major", played: Variant | None = None, top: str = "", own: str = ""
) -> Composed:
    """The same for what hypothesis draws: what does not fit the compass, and says so, is drawn again."""
    session, item = _laid_out(block, key, played, top, own)
    if isinstance(item, DoesNotFit):
        reject()
    return Composed(item, session, compose(item, session))


def _laid_out(
    block: str, key: str | None, played: Variant | None, top: str, own: str
) -> tuple[Session, Item | DoesNotFit]:
    library = patterns(own)
    session = read_session(f"{top}\n[[block]]\n{block}\n", "practice.toml", library)
    return session, Items(session, library).item(session.blocks[0], read_key(key) if key else None, played)


def phrases_of(score: Score) -> list[list[SoloNote]]:
    """The solo, breath by breath, as the breath marks part it."""
    ends = [breath.onset for breath in score.breaths]
    parts: list[list[SoloNote]] = [[] for _ in ends]
    for note in score.solo:
        parts[next(place for place, end in enumerate(ends) if note.onset < end)].append(note)
    return parts


def played_bars(score: Score) -> list[Fraction]:
    """Where the bars begin that are not counted in."""
    return [bar.onset.exact for bar in score.bars if bar.number]
