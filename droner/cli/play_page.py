"""Lay out the screen of a live day, to be read from two metres.

Rule    large is what is looked for while playing: the key, the bar and the beat, the tempo. Small is what can wait: how
        it is played, what sounds, what is left, what comes next, the last mark, the keys. Where there is less room,
        what matters less is left out first, and large letters become small ones before a number is cut. A terminal
        without the room for that shows one line. A page has as many lines as the terminal, each no wider.
Units   cells of a terminal.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.cli.keys_table import KEYS
from droner.cli.play_board import Kind, ground_of, large_names, manner_of, name_of
from droner.cli.play_letters import ROWS, fitting, large
from droner.cli.play_paper import HIGH_ENOUGH, Paper, Part, columns, columns_width, fitted, key_lines, sheet, shortened
from droner.cli.play_words import head_lines, mark_line, next_line, state_lines
from droner.cli.table import minutes_seconds, wrapped
from droner.score.words import shown_bpm
from droner.units import Beats

if TYPE_CHECKING:
    from collections.abc import Sequence

    from droner.cli.play_board import Board, Scene
    from droner.live.words import Place

MUST, NEWS, MARK, MANNER, NEXT, NAME, DOING, GROUND = range(8)
"""What has room first."""
NO_NUMBER = "-"


def page(board: Board, paper: Paper) -> list[str]:
    """All lines; one where there is no room for more."""
    scene, place = board.scene, board.place()
    if scene is None:
        return [""]
    if not paper.is_large:
        return [shortened(one_line(board), paper.wide - 1)]
    return sheet(fitted(_parts(board, scene, place, paper), paper.high), paper)


def one_line(board: Board) -> str:
    """Everything that matters in one line."""
    scene, place = board.scene, board.place()
    if scene is None:
        return ""
    state = _state(scene, place)
    where = "" if place is None or not place.bar else f"bar {place.bar}.{place.beat}"
    tempo = shown_bpm(scene.bpm_at(_moment(place)))
    head = f"{scene.number}/{scene.of} {name_of(scene.item)}"
    parts = (state, where, tempo, minutes_seconds(float(scene.left_at(_moment(place)))), board.mark, board.remark)
    return "  ".join((head, *filter(None, parts)))


def _parts(board: Board, scene: Scene, place: Place | None, paper: Paper) -> list[Part]:
    room = paper.room
    head = head_lines(scene, scene.left_at(_moment(place)), room)
    state = state_lines(_state(scene, place).upper(), board, scene, paper)
    free = paper.high - len(head) - len(state) - 1
    name = fitting(large_names(scene.item), room)
    where = f"playing on {board.on}" if board.on and _is_before(scene, place) else ""
    news = board.trouble() or board.remark or where
    marked, parted = mark_line(board.mark, room), paper.high >= HIGH_ENOUGH
    said = _rows(news, room, 1 + parted) if news or parted else (marked,)
    return [
        Part(MUST, head),
        Part(NAME, large(name, paper.ink) if name else (), loose=True),
        Part(MANNER, _rows(manner_of(scene.item), room, 1 + parted), loose=True),
        Part(GROUND, _rows(ground_of(scene.item, board.tuning), room, 1 + parted)),
        Part(MUST, _numbers(_shown(scene, place), paper, free), loose=True),
        Part(MUST, _kept(state, paper), loose=True),
        Part(NEWS, _kept(said, paper)),
        Part(MARK, (marked,) if parted else ()),
        Part(NEXT, (next_line(scene, room),)),
        Part(DOING, tuple(key_lines(KEYS, paper)) if paper.keys else ()),
    ]


def _kept(lines: tuple[str, ...], paper: Paper) -> tuple[str, ...]:
    """Lines that may be empty: where there is room their place is kept, so that the page does not jump."""
    return lines if paper.is_roomy or any(lines) else ()


def _rows(text: str, room: int, most: int) -> tuple[str, ...]:
    """A text in so many lines at most; the last one says by a sign if words are left out."""
    lines = wrapped(text, room).split("\n")
    return (*lines[: most - 1], shortened(" ".join(lines[most - 1 :]), room)) if len(lines) >= most else tuple(lines)


def _shown(scene: Scene, place: Place | None) -> list[tuple[str, str]]:
    """What is large, with its labels; in a pause where the music stands goes small above that word."""
    going = _going(scene, place)
    return [(_small(going), "paused")] if place is not None and place.paused else going


def _going(scene: Scene, place: Place | None) -> list[tuple[str, str]]:
    """Bar, beat and tempo; between two items the seconds that are left."""
    moment = _moment(place)
    if scene.kind is Kind.DRONE:
        return [("", "drone")]
    if scene.kind is not Kind.ITEM:
        return [("seconds", str(-(-scene.left_at(moment) // 1)))]
    bar = str(place.bar) if place and place.bar else NO_NUMBER
    beat = str(place.beat) if place and place.beat else NO_NUMBER
    label = "bar" if bar == NO_NUMBER or not scene.bars else f"bar {bar} of {scene.bars}"
    return [(label, bar), ("beat", beat), ("tempo", shown_bpm(scene.bpm_at(moment)))]


def _numbers(shown: Sequence[tuple[str, str]], paper: Paper, free: int) -> tuple[str, ...]:
    """As many of them large as have room side by side, the rest in one line; all small where that is too high."""
    for count in range(len(shown), 0, -1):
        big, rest = shown[:count], shown[count:]
        if columns_width(big) <= paper.room and ROWS + 1 + bool(rest) <= free:
            return (*columns(big, paper), *([_small(rest)] if rest else []))
    return tuple(wrapped(_small(shown), paper.room).split("\n"))


def _small(shown: Sequence[tuple[str, str]]) -> str:
    return ", ".join(label if text in label.split() else f"{label} {text}".strip() for label, text in shown)


def _state(scene: Scene, place: Place | None) -> str:
    if place is not None and place.paused:
        return "paused"
    return "get ready" if _is_before(scene, place) else scene.kind.value


def _is_before(scene: Scene, place: Place | None) -> bool:
    """Whether the first bar has not come yet."""
    return scene.kind is Kind.ITEM and place is not None and not place.paused and not place.bar


def _moment(place: Place | None) -> Beats:
    return Beats(0) if place is None else place.moment
