"""Write beside a track what only the ear was to tell: a partner's exact curve, and how a drone came back.

Rule    a curve has a row at every bearing of the partner, and at the beginning and the end of the track and of every
        fade of its tones; between two rows everything goes in straight lines of time, so that what is read between
        them is exact. `partner_cents` is above true pitch, `player_cents` where the player's task puts the player. A
        curve is written as CSV and as JSON, once for an item, whatever the forms of its track. Answers are a text.
Units   seconds from the start of the track, to the microsecond; cents; decibels against the level of the drone.
Source  RFC 4180 (CSV), RFC 8259 (JSON).
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from droner.cli.jobs import RATE_HZ
from droner.units import Seconds

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from droner.cli.jobs import Told
    from droner.cli.tracks import Track
    from droner.practice.session import PartnerOrder
    from droner.score.partner import Course, CurvePoint
    from droner.score.score import Score

COLUMNS = ("seconds", "partner_cents", "player_cents", "partner_gain_db")
SECONDS_A_MINUTE = 60
ABOUT = (
    "Seconds from the start of the track. Between two rows everything goes in straight lines. Cents are above true "
    "pitch: what the partner does, and where the player's task puts the player. No size is claimed for real players."
)


@dataclass(frozen=True, slots=True)
class SideFile:
    """One text beside a track. It is a job as it stands."""

    path: Path
    form: str
    title: str
    number: int
    text: str

    @property
    def work(self) -> int:
        """None to speak of."""
        return 0

    def write(self, told: Told) -> None:
        """Write the file, whole or not at all."""
        from droner.whole_file import whole_file  # noqa: PLC0415 - names need no disk

        with whole_file(self.path, still_wanted=lambda: told(0)) as file:
            file.write(self.text.encode("utf-8"))


def side_files(tracks: Sequence[Track]) -> list[SideFile]:
    """What belongs beside the tracks, once for each item."""
    first_of_item = {track.number: track for track in reversed(tracks) if track.item is not None}
    return [one for _, track in sorted(first_of_item.items()) for one in _beside(track)]


def side_file_data(one: SideFile) -> dict[str, Any]:
    """A side file as data."""
    return {"path": str(one.path), "form": one.form, "title": one.title, "number": one.number}


def _beside(track: Track) -> Iterator[SideFile]:
    stem = track.path.with_suffix("")
    from droner.score.partner import partner_course  # noqa: PLC0415 - names need no scores

    order = track.item.block.partner if track.item else None
    if track.item and order and track.score.drone:
        rows = list(_rows(track.score, partner_course(track.item, order), order))
        yield _side_file(track, stem.with_name(f"{stem.name}.csv"), "csv", _csv(rows))
        yield _side_file(track, stem.with_name(f"{stem.name}.json"), "json", _json(track, order, rows))
    if track.score.answers:
        yield _side_file(track, stem.with_name(f"{stem.name} answers.txt"), "txt", _answers(track.score))


def _side_file(track: Track, path: Path, form: str, text: str) -> SideFile:
    return SideFile(path, form, track.title, track.number, text)


def _rows(score: Score, course: Course, order: PartnerOrder) -> Iterator[tuple[float, ...]]:
    """The curve at every moment at which anything turns."""
    from droner.score.partner import curve, player_share  # noqa: PLC0415 - most items have no partner

    moments = [Seconds(0), score.duration, *(moment for fade in _fades(score) for moment in fade)]
    share = player_share(order)
    for point in curve(course, score.tempo_map, moments):
        if Seconds(0) <= point.moment <= score.duration:
            yield _row(point, share)


def _row(point: CurvePoint, share: float) -> tuple[float, ...]:
    # + 0.0 makes 0 of -0
    return tuple(each + 0.0 for each in (float(point.moment), point.cents, share * point.cents, point.gain_db))


def _fades(score: Score) -> list[tuple[Seconds, Seconds]]:
    """From when to when tones of the drone fade in, out, or over into others, in the audio files.

    Frames are rounded, so that the last may lie less than a frame beyond the end.
    """
    from droner.sound.held_voice import drone_fades  # noqa: PLC0415 - only where there is a partner

    fades = drone_fades(score, RATE_HZ)
    ends = [[min(Seconds(Fraction(frame, RATE_HZ)), score.duration) for frame in fade] for fade in fades]
    return [(first, last) for first, last in ends]


def _csv(rows: Sequence[tuple[float, ...]]) -> str:
    lines = [",".join(COLUMNS), *(",".join(f"{each:.6f}" for each in row) for row in rows)]
    return "".join(f"{line}\r\n" for line in lines)


def _json(track: Track, order: PartnerOrder, rows: Sequence[tuple[float, ...]]) -> str:
    whole = {
        "title": track.title,
        "about": ABOUT,
        "partner": {"kind": order.kind, "cents": order.cents, "role": order.role},
        "fades": [[round(float(moment), 6) for moment in fade] for fade in _fades(track.score)],
        "curve": [dict(zip(COLUMNS, (round(each, 6) for each in row), strict=True)) for row in rows],
    }
    return json.dumps(whole, ensure_ascii=False, indent=2) + "\n"


def _answers(score: Score) -> str:
    """One line a return: minutes and seconds, cents, and the same in words."""
    from droner.score.answers import heard_words  # noqa: PLC0415 - most items have no answers

    lines = ["How far off the drone came back: minutes, cents, and in words."]
    for answer in score.answers:
        minutes, seconds = divmod(float(score.tempo_map.seconds_at(answer.onset)), SECONDS_A_MINUTE)
        lines.append(f"{int(minutes)}:{seconds:06.3f}  {answer.cents + 0.0:+g}  {heard_words(answer.cents)}")
    return "".join(f"{line}\n" for line in lines)
