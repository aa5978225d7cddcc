"""Hold together what a live day is played with.

Rule    one thread, `work`, makes every piece, one after another; the main thread plays.
Units   seconds.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from droner.cli.play_board import Kind, Scene
from droner.units import Beats

if TYPE_CHECKING:
    from droner.cli.day import Day
    from droner.cli.play_board import Board
    from droner.cli.play_making import Made, Maker, Step
    from droner.cli.play_marks import Marks
    from droner.cli.play_output import Output
    from droner.cli.play_work import Worker
    from droner.live.words import Asked
    from droner.score.score import Score

A_SECOND = Beats(1)


@dataclass(frozen=True, slots=True)
class Stage:
    """The day, its steps, and everything that plays them. `say` tells the player a line where there is no screen."""

    day: Day
    steps: Sequence[Step]
    output: Output
    maker: Maker
    marks: Marks
    board: Board
    asked: Asked
    work: Worker
    wait_s: Fraction
    waits_at_the_end: bool
    say: Callable[[str], None]

    def made(self, place: int) -> Made:
        """A step made ready, as soon as it is."""
        return self.work.submit(self.maker.make, self.steps[place]).result()

    def prepare(self, place: int) -> None:
        """Have a step made ready in good time; nothing after the last."""
        if place < len(self.steps):
            self.work.submit(self.maker.make, self.steps[place])

    def show(self, place: int, made: Made, kind: Kind) -> None:
        """Put what sounds on the board."""
        item, score = made.planned.item, made.score
        later = (step for step in self.steps[place + 1 :] if step.opens)
        following = next((step.planned.item for step in later), None)
        self.board.remark = ""
        self.board.scene = Scene(
            kind, item, made.planned.number, len(self.day.plan.items), score.tempo_map, score.duration.exact,
            self.seconds_after(place), following, item.meter.beat,
        )  # fmt: skip

    def show_silence(self, place: int, score: Score, kind: Kind) -> None:
        """Put a pause on the board, with the step that it is about."""
        planned = self.steps[place].planned
        comes = kind is not Kind.LAST
        after = self._seconds(place) + self.seconds_after(place) if comes else Fraction(0)
        self.board.remark = ""
        self.board.scene = Scene(
            kind, planned.item, planned.number, len(self.day.plan.items), score.tempo_map, score.duration.exact,
            after, planned.item if comes else None, A_SECOND,
        )  # fmt: skip

    def seconds_after(self, place: int) -> Fraction:
        """What the day has after a step."""
        later = range(place + 1, len(self.steps))
        return sum((self.pause_s(each) + self._seconds(each) for each in later), Fraction(0))

    def pause_s(self, place: int) -> Fraction:
        """How long nothing sounds before a step: a rest of the plan, else a breath before a new item."""
        step = self.steps[place]
        if not step.opens:
            return Fraction(0)
        return step.planned.rest_before.exact or (self.wait_s if place else Fraction(0))

    def _seconds(self, place: int) -> Fraction:
        step = self.steps[place]
        item = step.planned.item
        return item.seconds.exact if step.run is None else item.seconds.exact / len(item.speeds)
