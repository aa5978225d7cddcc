"""Play one step of a live day, and do what the player asks while it sounds.

Rule    `again`, slower and faster begin the item anew, from its lead-in and count-in: a new tempo must be counted in
        before anybody can take it up. The drone does not stop for that. What another tempo or the drone alone needs
        is made beside the music, which meanwhile goes on; what is ready only after the end is played then.
"""

from __future__ import annotations

from queue import Empty
from threading import Lock
from typing import TYPE_CHECKING, Any

from droner.cli.play_board import Kind
from droner.cli.play_scores import tones_at
from droner.midi.live.commands import Command

if TYPE_CHECKING:
    from collections.abc import Callable

    from droner.cli.play_making import Made
    from droner.cli.play_output import Piece
    from droner.cli.play_stage import Stage
    from droner.cli.play_work import Task
    from droner.live.words import Deed
    from droner.units import Beats

ANEW = {Command.AGAIN: 0, Command.SLOWER: -1, Command.FASTER: 1}
"""What begins an item anew, and by how many numbers of the metronome."""
NO_DRONE = "this item has no drone"
NO_NUMBER = "the metronome has no further number"
LEAVES = frozenset({Command.NEXT, Command.END})


class Turn:
    """One step on its way."""

    def __init__(self, stage: Stage, place: int) -> None:
        self._stage, self._place = stage, place
        self._made = stage.made(place)
        self._piece: Piece = self._made.piece
        self._kind = Kind.ITEM
        self._lock = Lock()
        self._is_over = False
        self._is_late = False
        self._work: list[Task[None]] = []

    @property
    def made(self) -> Made:
        """What is played."""
        return self._made

    def play(self) -> Command | None:
        """Play to the end. The command that ended it, None when it was played out."""
        stage = self._stage
        self._show()
        while True:
            ended = stage.output.play(self._piece, stage.asked, self._obey)
            command: Command | None = ended.command
            if command in LEAVES or not self._is_changed_late():
                stage.marks.leaves(ended.at)
                return command

    def _obey(self, command: Command) -> Deed:
        output = self._stage.output
        if command in LEAVES:
            return output.stop
        if command is Command.PAUSE:
            return output.pause
        if command is Command.DRONE_ONLY:
            self._do(self._drone_alone)
        elif command in ANEW:
            self._do(self._anew, ANEW[command])
        else:
            self._stage.marks.mark(self._moment, clean=command is Command.CLEAN)
        return output.go_on

    @property
    def _moment(self) -> Beats:
        place = self._stage.output.place
        assert place is not None  # noqa: S101 - commands come while something plays
        return place.moment

    def _do(self, work: Callable[..., None], *arguments: Any) -> None:
        """Have something made for the place where the music is now."""
        self._work.append(self._stage.work.submit(work, self._moment, *arguments))

    def _anew(self, at: Beats, clicks: int) -> None:
        """In the thread that makes pieces: the item from its beginning, so many numbers slower or faster."""
        maker, step = self._stage.maker, self._stage.steps[self._place]
        if clicks and not maker.step_tempo(step, clicks):
            self._stage.board.remark = NO_NUMBER
            return
        made = maker.make(step)
        self._change(at, made, Kind.ITEM, made.piece)

    def _drone_alone(self, at: Beats) -> None:
        """In the thread that makes pieces: the drone of the item, as it sounds now."""
        if self._kind is Kind.DRONE:
            return
        tones = tones_at(self._made.score, at)
        if not tones:
            self._stage.board.remark = NO_DRONE
            return
        self._change(at, self._made, Kind.DRONE, self._stage.output.standing(self._made.score, tones))

    def _change(self, at: Beats, made: Made, kind: Kind, piece: Piece) -> None:
        with self._lock:
            self._stage.marks.leaves(at)
            self._made, self._kind, self._piece = made, kind, piece
            self._show()
            if self._is_over:
                self._is_late = True
            else:
                self._stage.asked.put(self._stage.output.change_to(piece))

    def _show(self) -> None:
        self._stage.marks.begins(self._made.planned if self._kind is Kind.ITEM else None)
        self._stage.show(self._place, self._made, self._kind)

    def _is_changed_late(self) -> bool:
        """Whether a change was asked for that came too late for the music. Commands that came too late are kept."""
        with self._lock:
            self._is_over = True
        for each in self._work:
            each.result()
        self._work.clear()
        came: list[Any] = []
        while True:
            try:
                came.append(self._stage.asked.get_nowait())
            except Empty:
                break
        for each in came:
            if isinstance(each, Command):
                self._stage.asked.put(each)
        is_changed = self._is_late or any(not isinstance(each, Command) for each in came)
        self._is_over = self._is_late = False
        return is_changed
