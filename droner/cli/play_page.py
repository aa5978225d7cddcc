"""Lay out the screen of a live day, to be read from two metres.

Rule    large is what is looked for while playing: the key, the bar and the beat, the tempo. Small is what can wait: how
        it is played, what is left, what comes next, the last mark, the keys. A terminal without the room for that
        shows one line. A page has as many lines as the terminal, each no wider.
Units   cells of a terminal.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.cli.keys_table import KEYS
from droner.cli.play_board import Kind, large_name, manner_of, name_of
from droner.cli.play_letters import fitting, large
from droner.cli.play_paper import HIGH_ENOUGH, Paper, apart, columns, cut, key_lines, sheet
from droner.cli.table import minutes_seconds, wrapped
from droner.score.words import shown_bpm
from droner.units import Beats

if TYPE_CHECKING:
    from droner.cli.play_board import Board, Scene
    from droner.live.words import Place


def page(board: Board, paper: Paper) -> list[str]:
    """All lines; one where there is no room for more."""
    scene, place = board.scene, board.place()
    if scene is None:
        return [""]
    if not paper.is_large:
        return [cut(one_line(board), paper.wide - 1)]
    lines = [*_head(scene, place, paper), "", *_numbers(scene, place, paper), "", *_below(board, scene, place, paper)]
    return sheet(lines, paper)


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


def _head(scene: Scene, place: Place | None, paper: Paper) -> list[str]:
    room = paper.room
    moment = _moment(place)
    left = float(scene.left_at(moment))
    times = f"{minutes_seconds(left)} left, {minutes_seconds(left + float(scene.after))} of the day"
    lines = [apart(f"{scene.number} of {scene.of}   {name_of(scene.item)}", times, room)]
    if paper.high >= HIGH_ENOUGH:
        item = scene.item
        words = fitting((large_name(item), str(item.key or ""), item.drill.name.split()[0]), room)
        lines += ["", *large(words, paper.ink)]
    manner = wrapped(manner_of(scene.item), room).split("\n")
    return [*lines, "", *manner[:2]]


def _numbers(scene: Scene, place: Place | None, paper: Paper) -> list[str]:
    """Bar, beat and tempo, large; between two items the seconds that are left."""
    moment = _moment(place)
    if place is not None and place.paused:
        shown = [("", "paused")]
    elif scene.kind in (Kind.ITEM, Kind.DRONE):
        bar = str(place.bar) if place and place.bar else "-"
        beat = str(place.beat) if place and place.beat else "-"
        tempo = shown_bpm(scene.bpm_at(moment)) if scene.kind is Kind.ITEM else "-"
        shown = [("bar", bar), ("beat", beat), ("tempo", tempo)]
        if scene.kind is Kind.DRONE:
            shown = [("", "drone")]
    else:
        shown = [("seconds", str(-(-scene.left_at(moment) // 1)))]
    return columns(shown, paper)


def _below(board: Board, scene: Scene, place: Place | None, paper: Paper) -> list[str]:
    """The state first: it is what a low terminal must not lose."""
    comes = scene.following
    following = f"next: {name_of(comes)}; {manner_of(comes)}" if comes else "the last item"
    marked = f"marked: {board.mark}" if board.mark else ""
    lines = [_state(scene, place).upper(), board.trouble() or board.remark, marked, following]
    return [*lines, *(key_lines(KEYS, paper) if paper.keys else [])]


def _state(scene: Scene, place: Place | None) -> str:
    if place is not None and place.paused:
        return "paused"
    if scene.kind is Kind.ITEM and place is not None and not place.bar:
        return "get ready"
    return scene.kind.value


def _moment(place: Place | None) -> Beats:
    return Beats(0) if place is None else place.moment
