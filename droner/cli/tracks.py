"""List the files of a day: one a form for each item, and the long ones.

Rule    a name is the number, the drill and the key, in letters that every phone's file system takes, and no longer
        than one takes either. The scores of a day are all here at once: they are kept in columns.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from droner.cli.form_table import SUFFIXES
from droner.practice.alone import sounds_alone

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from droner.cli.day import Day
    from droner.practice.item import Item
    from droner.practice.plan import PlannedItem
    from droner.score.score import Score

LONG_NUMBER = 0
LONGEST_NAME = 120
"""Letters of a name before its ending: far below the 255 bytes of most file systems, and still read at a glance."""
_KEPT = frozenset("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789 .,-#+'")


@dataclass(frozen=True, slots=True)
class Track:
    """One file to be: its score, its form ("mp3", "mid"), its place and how it is tagged.

    `heard` is what an audio file sounds: the score with the solo only where the guide plays along. A long one has no
    item.
    """

    path: Path
    form: str
    score: Score
    heard: Score
    title: str
    comment: str
    number: int
    total: int
    item: Item | None = None


def safe_name(text: str) -> str:
    """The text in letters that a file name may have anywhere."""
    plain = unicodedata.normalize("NFKD", text)
    kept = "".join(sign if sign in _KEPT else " " for sign in plain if not unicodedata.combining(sign))
    return " ".join(kept.split())[:LONGEST_NAME].strip(" .") or "track"


def tracks(
    day: Day,
    folder: Path,
    forms: Sequence[str],
    only: Sequence[int] = (),
    *,
    long: bool = False,
    guide: bool | None = None,
) -> list[Track]:
    """Every file of the day, item by item; the long ones last. `guide` overrides block and session."""
    from droner.score.columns import score_in_columns  # noqa: PLC0415 - names need no scores
    from droner.score.compose import compose  # noqa: PLC0415
    from droner.score.heard import heard as heard_of  # noqa: PLC0415

    chosen = [planned for planned in day.plan.items if not only or planned.number in only]
    scores = [score_in_columns(compose(planned.item, day.session, day.plan.sessions_before)) for planned in chosen]
    heard = [
        score_in_columns(heard_of(score, planned.item, guide=plays_along(planned, day, guide)))
        for planned, score in zip(chosen, scores, strict=True)
    ]
    made = [
        _track(planned, score, sounding, form, folder, len(day.plan.items))
        for planned, score, sounding in zip(chosen, scores, heard, strict=True)
        for form in forms
    ]
    return [*made, *_long(day, scores, heard, folder, forms)] if long and scores else made


def plays_along(planned: PlannedItem, day: Day, guide: bool | None) -> bool:  # noqa: FBT001 - a wish, not a switch
    """Whether the guide plays this item: the command says, else the block, else the task, else the session."""
    alone = False if sounds_alone(planned.item) else None
    wishes = (guide, planned.item.block.guide, alone, day.session.sound.guide.on)
    return next(wish for wish in wishes if wish is not None)


def track_data(track: Track) -> dict[str, Any]:
    """A track as data. The number of a long one is 0."""
    return {
        "path": str(track.path),
        "form": track.form,
        "title": track.title,
        "number": track.number,
        "seconds": float(track.score.duration),
    }


def _track(planned: PlannedItem, score: Score, heard: Score, form: str, folder: Path, total: int) -> Track:
    from droner.score.words import shown_cue  # noqa: PLC0415 - names need no words

    item = planned.item
    title = f"{planned.number:02} {item.drill.name}" + (f", {item.key.spoken}" if item.key else "")
    comment = shown_cue(item, item.speeds[-1])
    path = folder / (safe_name(title) + SUFFIXES[form])
    return Track(path, form, score, heard, score.title, comment, planned.number, total, item)


def _long(
    day: Day, scores: Sequence[Score], heard: Sequence[Score], folder: Path, forms: Sequence[str]
) -> Iterator[Track]:
    from droner.score.join import join  # noqa: PLC0415 - only when a long one is asked for

    title = f"{day.session.title}, {day.plan.day.isoformat()}"
    score, sounding = join(title, scores), join(title, heard)
    for form in forms:
        path = folder / (safe_name(f"whole day {day.plan.day.isoformat()}") + SUFFIXES[form])
        yield Track(path, form, score, sounding, title, f"{len(scores)} items", LONG_NUMBER, len(scores))
