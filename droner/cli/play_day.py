"""Play the day live: an item, a breath, the next item.

Rule    a rest of the plan is counted down in place of the breath. In a pause `next` goes on at once; `again`, slower
        and faster take the item before it once more; a mark is for the run before. After the last item the player
        has one breath more to mark it. `next` leaves out the breath: who asks for the next item is ready for it.
Units   seconds.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from droner.cli.play_board import Kind, line_of
from droner.cli.play_scores import silent_score
from droner.cli.play_turn import ANEW, Turn
from droner.midi.live.commands import Command
from droner.units import Beats

if TYPE_CHECKING:
    from fractions import Fraction

    from droner.cli.play_making import Made
    from droner.cli.play_stage import Stage
    from droner.live.words import Deed

MARKS = frozenset({Command.CLEAN, Command.NOT_YET})
WITHIN_AN_ITEM = "the drone alone sounds within an item"


class LiveDay:
    """A day on its way; `played` are the steps that sounded, in order."""

    def __init__(self, stage: Stage) -> None:
        self.played: list[Made] = []
        self._stage = stage

    def prepare(self) -> None:
        """Make the first step ready."""
        self._stage.made(0)

    def play(self) -> None:
        """Play the day to its end."""
        place: int | None = 0
        while place is not None:
            command = self._turn(place)
            if command is not Command.END:
                place, command = self._next(place, command)
            if command is Command.END:
                place = None

    def _turn(self, place: int) -> Command | None:
        stage = self._stage
        turn = Turn(stage, place)
        if stage.steps[place].opens:
            stage.say(line_of(turn.made.planned, len(stage.day.plan.items)))
        stage.prepare(place + 1)
        command = turn.play()
        self.played.append(turn.made)
        return command

    def _next(self, place: int, command: Command | None) -> tuple[int | None, Command | None]:
        """The step after one that ended so, None at the end of the day; and the command that came in the pause."""
        following = self._following(place, skips=command is Command.NEXT)
        came = self._pause(following, skips_breath=command is Command.NEXT)
        if came in ANEW:
            if clicks := ANEW[came]:
                self._stage.work.submit(self._stage.maker.step_tempo, self._stage.steps[place], clicks).result()
            return place, came
        return (following if following < len(self._stage.steps) else None), came

    def _following(self, place: int, *, skips: bool) -> int:
        """The place after this one; `skips`: the first of another item."""
        later = range(place + 1, len(self._stage.steps))
        return next((each for each in later if not skips or self._stage.steps[each].opens), len(self._stage.steps))

    def _pause(self, following: int, *, skips_breath: bool) -> Command | None:
        """The pause before a step. The command that ended it."""
        stage = self._stage
        if following == len(stage.steps):
            return self._silence(Kind.LAST, following - 1, stage.wait_s) if stage.waits_at_the_end else None
        if stage.steps[following].opens and stage.steps[following].planned.rest_before:
            return self._silence(Kind.REST, following, stage.pause_s(following))
        return None if skips_breath else self._silence(Kind.BREATH, following, stage.pause_s(following))

    def _silence(self, kind: Kind, place: int, seconds: Fraction) -> Command | None:
        if not seconds:
            return None
        stage = self._stage
        score = silent_score(kind.value, seconds, stage.day.session.tuning.a4_hz)
        stage.show_silence(place, score, kind)
        ended = stage.output.play(stage.output.silence(score), stage.asked, self._obey)
        command: Command | None = ended.command
        return command

    def _obey(self, command: Command) -> Deed:
        """What a pause does about a command."""
        stage = self._stage
        if command is Command.PAUSE:
            return stage.output.pause
        if command in MARKS:
            stage.marks.mark(Beats(0), clean=command is Command.CLEAN)
            return stage.output.go_on
        if command is Command.DRONE_ONLY:
            stage.board.remark = WITHIN_AN_ITEM
            return stage.output.go_on
        return stage.output.stop
