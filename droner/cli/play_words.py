"""Find the words of the screen of a live day that have room in a line, or the lines that they take.

Rule    numbers and keys are never cut. A name gives way to its key, and says by a sign that words are missing; what
        does not go beside another thing goes below it.
Units   cells of a terminal.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.cli.keys_table import KEYS
from droner.cli.play_board import SOUNDING, manner_of, name_of
from droner.cli.play_paper import CUT, apart, shortened
from droner.cli.table import minutes_seconds, width, wrapped

if TYPE_CHECKING:
    from fractions import Fraction

    from droner.cli.play_board import Board, Scene
    from droner.cli.play_paper import Paper
    from droner.practice.item import Item

BETWEEN = 2
"""Cells between two texts at both ends of a line."""
FOR_WHAT_IS_OVER = ("clean", "not yet", "again", "slower", "faster")
"""What is done to the item before, in a pause; of these the first three are always named."""
ALWAYS = 3


def head_lines(scene: Scene, left_s: Fraction, room: int) -> tuple[str, ...]:
    """Which item, what it is called, and how long it and the day still last."""
    count, left = f"{scene.number} of {scene.of}", minutes_seconds(float(left_s))
    day = minutes_seconds(float(left_s + scene.after))
    times, short = f"{left} left, day {day} left", f"{left} left, day {day}"
    whole = f"{count}   {name_of(scene.item)}"
    if _go(whole, times, room):
        return (apart(whole, times, room),)
    name = name_in(scene.item, room)
    for each in (times, short):
        if _go(count, each, room):
            return (apart(count, each, room), name)
    return (count, *wrapped(times, room).split("\n"), name)


def name_in(item: Item, room: int) -> str:
    """The name of an item; the drill gives way, the key does not."""
    if item.key is None:
        return shortened(item.drill.name, room)
    key = f", {item.key}"
    return shortened(item.drill.name, room - width(key)) + key


def next_line(scene: Scene, room: int) -> str:
    """What comes."""
    label = "next: "
    if scene.following is None:
        return "the last item"
    name = label + name_in(scene.following, room - width(label))
    whole = f"{name}; {manner_of(scene.following)}"
    return whole if width(whole) <= room else shortened(whole, room) if width(name) + len(CUT) <= room else name


def mark_line(mark: str, room: int) -> str:
    """The last mark; its end says how it was marked, so that its beginning gives way."""
    if not mark:
        return ""
    words = mark.split()
    shorter = (f"{CUT} {' '.join(words[first:])}" for first in range(1, len(words)))
    return next((text for text in (f"marked: {mark}", mark, *shorter) if width(text) <= room), shortened(mark, room))


def state_lines(state: str, board: Board, scene: Scene, paper: Paper) -> tuple[str, ...]:
    """The state; in a pause also which item the keys are for."""
    words = ""
    if scene.kind not in SOUNDING and board.over is not None:
        words = over_words(board.over, scene, len(FOR_WHAT_IS_OVER), keys=paper.keys)
        if width(words) > paper.room:
            words = over_words(board.over, scene, ALWAYS, keys=paper.keys)
    both = f"{state}   {words}".strip()
    if width(both) <= paper.room:
        return (both,)
    return tuple(row for line in (state, words) if line for row in wrapped(line, paper.room).split("\n"))


def over_words(over: Item, scene: Scene, count: int, *, keys: bool) -> str:
    """What the keys mean in a pause; the drill is named where the key alone does not tell the items apart."""
    comes = scene.following
    is_plain = over.key is not None and (comes is None or comes.key != over.key)
    called = str(over.key) if is_plain else name_of(over)
    doing = [key for command in FOR_WHAT_IS_OVER[:count] for key in KEYS if key.command == command]
    return f"{called} is over: " + ", ".join(f"{key.called} {key.words}" if keys else key.words for key in doing)


def _go(left: str, right: str, room: int) -> bool:
    return width(left) + BETWEEN + width(right) <= room
