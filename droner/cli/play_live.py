"""Set everything up for a live day, play it, and take everything down, whatever happens.

Rule    the port opens while the session is read, and only the first item is made before it sounds: the first tone
        comes as soon as the machine can. Everything is taken down in the opposite order of setting up, and no signal
        falls into that: the music is silent first, then the last marks are written down, then the terminal is put back.
Units   seconds.
"""

from __future__ import annotations

import gc
from collections.abc import Callable
from contextlib import AbstractContextManager, ExitStack
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from queue import SimpleQueue
from typing import TYPE_CHECKING, Any

from droner.cli.day import check_items, open_day
from droner.cli.keys import Keys
from droner.cli.keys_table import COMMAND_OF
from droner.cli.mixing import balance_of, mix_of
from droner.cli.play_board import Board
from droner.cli.play_clerk import Clerk
from droner.cli.play_day import LiveDay
from droner.cli.play_making import Maker, steps
from droner.cli.play_marks import Marks
from droner.cli.play_midi import midi_output
from droner.cli.play_page import one_line, page
from droner.cli.play_port import port_soon
from droner.cli.play_screen import Screen
from droner.cli.play_signals import Sleeper, ending_in_order, told_when_stopped, undisturbed_end
from droner.cli.play_stage import Stage
from droner.cli.play_terminal import taken
from droner.cli.play_work import Worker
from droner.cli.screen import page_width, tell
from droner.errors import MachineError
from droner.midi.live.commands import Command

if TYPE_CHECKING:
    from pathlib import Path

    from droner.cli.day import Day
    from droner.cli.play_output import Output
    from droner.cli.play_pedal import Listener
    from droner.cli.play_runs import Run
    from droner.cli.play_work import Task
    from droner.live.words import Asked, Place
    from droner.midi.live.port import OutputPort

PEDAL_GONE = "the pedal has gone; the keys are heard, and the pedal when it is back"
LOGBOOK_HELD = "waiting for the logbook with the last mark: another program may hold it"
WITHOUT_A_PORT = "droner play --speaker plays through the loudspeaker, --own-port makes a port for others to connect to"


@dataclass(frozen=True, slots=True)
class Wanted:
    """What the command was asked for; see there. `speaker` None: a MIDI port; `pedal` None: none."""

    only: tuple[int, ...]
    guide: bool | None
    port: str
    own_port: bool
    pedal: str | None
    clock: bool
    speaker: str | None
    climb: bool
    wait_s: Fraction
    as_json: bool
    quiet: bool


def play_live(session: Path | None, wanted: Wanted, options: dict[str, Any]) -> None:
    """The whole of it."""
    with told_when_stopped(), ending_in_order():
        stack = ExitStack()
        with undisturbed_end(stack.close):
            opening = None if wanted.speaker is not None else port_soon(wanted.port, stack, of_our_own=wanted.own_port)
            day = open_day(session, quiet=wanted.quiet, **options)
            check_items(day, wanted.only)
            live = _Live(day, wanted, stack)
            live.play(opening)
        live.sum_up()


class _Live:
    """A day that is being set up; what is set up later is taken down earlier."""

    def __init__(self, day: Day, wanted: Wanted, stack: ExitStack) -> None:
        self._day, self._wanted, self._stack = day, wanted, stack
        self._asked: Asked = SimpleQueue()
        self._output: Output | None = None
        self._pedal: Listener | None = None
        self._clerk = Clerk(day)
        self._live: LiveDay | None = None
        self._is_played = False
        self._board = Board(self._place, self._trouble)
        self._board.tuning = f"{day.session.tuning.temperament} tuning"

    def play(self, opening: Task[OutputPort] | None) -> None:
        """Set up, play, sum up."""
        listen = self._listener()
        port = None if opening is None else _port(opening)
        self._board.on = str(port.port) if port is not None else ""
        clerk, work = self._clerk, Worker("maker")
        self._stack.callback(self._tell_of_lost_marks)
        keys, screen, sleeper = self._terminal()
        self._stack.callback(clerk.close, partial(self._wait_for_logbook, screen))
        self._stack.callback(work.drop)
        output = self._output = self._stack.enter_context(self._music(port, _each(listen, sleeper.watch)))
        maker = Maker(self._day, output, guide=self._wanted.guide)
        live = self._live = LiveDay(
            self._stage(output, maker, work, clerk, screen, hands=keys.are_read or listen is not None)
        )
        live.prepare()
        clerk.sit_down()
        _collect_again()
        live.play()
        self._is_played = True

    def sum_up(self) -> None:
        """Show what was played, once all is taken down. What the logbook did not take is raised."""
        if self._clerk.failure:
            raise self._clerk.failure
        from droner.cli.play_summary import show_day  # noqa: PLC0415 - only at the end

        assert self._live is not None  # noqa: S101 - it was played
        assert self._output is not None  # noqa: S101 - as above
        wide = page_width()
        show_day(
            self._day, self._live.played, self._clerk.written, self._output, as_json=self._wanted.as_json, wide=wide
        )

    def _tell_of_lost_marks(self) -> None:
        """What the logbook did not take, when a signal ends the day before its sum."""
        if self._clerk.failure and not self._is_played:
            tell(f"not written down: {self._clerk.failure}")

    def _wait_for_logbook(self, screen: Screen) -> None:
        self._board.remark = LOGBOOK_HELD
        if not screen.is_watched or self._wanted.quiet:
            tell(LOGBOOK_HELD)

    def _stage(self, output: Output, maker: Maker, work: Worker, clerk: Clerk, screen: Screen, *, hands: bool) -> Stage:
        day, wanted = self._day, self._wanted

        def climb(run: Run) -> None:
            work.submit(self._climb, maker, run, clerk)

        planned = [one for one in day.plan.items if not wanted.only or one.number in wanted.only]
        return Stage(
            day=day,
            steps=tuple(steps(planned, climb=wanted.climb)),
            output=output,
            maker=maker,
            marks=Marks(self._board, clerk, climb if wanted.climb else None),
            board=self._board,
            asked=self._asked,
            work=work,
            wait_s=wanted.wait_s,
            waits_at_the_end=hands,
            say=lambda line: tell(line, quiet=wanted.quiet or screen.is_watched),
        )

    def _climb(self, maker: Maker, run: Run, clerk: Clerk) -> None:
        rung = maker.climb(run.planned, clerk.written)
        if rung is not None:
            self._board.remark = f"the ladder: {rung.label} next time"

    def _terminal(self) -> tuple[Keys, Screen, Sleeper]:
        """The keys and the screen, taken."""
        keys = Keys(self._key)
        screen = Screen(partial(page, self._board), partial(one_line, self._board), quiet=self._wanted.quiet)
        return keys, screen, taken(self._stack, keys, screen)

    def _key(self, sign: str) -> None:
        if sign in COMMAND_OF:
            self._asked.put(Command(COMMAND_OF[sign]))

    def _listener(self) -> Callable[[], None] | None:
        if self._wanted.pedal is None:
            return None
        from droner.cli.play_pedal import pedal_listener  # noqa: PLC0415 - only with a pedal

        self._pedal = self._stack.enter_context(pedal_listener(self._wanted.pedal, self._asked))
        return self._pedal

    def _music(self, port: OutputPort | None, idle: Callable[[], None]) -> AbstractContextManager[Output]:
        sound = self._day.session.sound
        if port is not None:
            return midi_output(port, idle, balance_of(sound), clock=self._wanted.clock)
        from droner.cli.play_speaker import speaker_output  # noqa: PLC0415 - numbers load only for sound
        from droner.sound.live.device import Speaker  # noqa: PLC0415 - as above

        speaker = Speaker.called(self._wanted.speaker or "")
        self._board.on = str(speaker.device)
        return speaker_output(speaker, idle, mix_of(sound))

    def _place(self) -> Place | None:
        return self._output.place if self._output else None

    def _trouble(self) -> str:
        if self._output and self._output.trouble:
            return self._output.trouble
        return PEDAL_GONE if self._pedal and self._pedal.gone else ""


def _collect_again() -> None:
    """Nothing of what was set up is garbage: out of the collector's sight with it, which rests no longer."""
    gc.freeze()
    gc.enable()


def _port(opening: Task[OutputPort]) -> OutputPort:
    try:
        return opening.result()
    except MachineError as none:
        raise MachineError(f"{none}\n{WITHOUT_A_PORT}") from none


def _each(*calls: Callable[[], None] | None) -> Callable[[], None]:
    """All of them as one."""
    there = [call for call in calls if call]

    def all_of_them() -> None:
        for call in there:
            call()

    return all_of_them
