"""Play one piece from its first message to its end, and do what is asked on the way.

Rule    a message is sent at its own moment of the clock. Between two messages, and at most ten milliseconds apart, the
        signals, the commands, the port and the caller's `idle` are looked after; nothing else runs in the timing path.
        A pause ends what sounds; going on sets the instrument up anew and strikes again what should stand. A port that
        comes back is hushed first, then set up likewise. A machine that slept goes on where the music was, instead of
        sending all that it missed.
Units   nanoseconds of the clock; beats and seconds of the piece.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import Enum

from droner.live.machine_time import Clock
from droner.live.noted_signals import Noted
from droner.live.words import Act, Asked, ChangeTo, Deed, Obey, Seek
from droner.midi.live.crossing import crossing
from droner.midi.live.endless import Endless, Music, entered
from droner.midi.live.entry import STRUCK
from droner.midi.live.moments import Moment, Piece, nanoseconds
from droner.midi.live.port_watch import LOOK_WITHIN_NS, PortWatch
from droner.midi.live.run import Run
from droner.midi.live.silence import BYTE_NS, HEARD_NS, Keeper, note_off
from droner.midi.live.waiting import Lateness, Timing, near, watched
from droner.units import Beats, Seconds

LEAD_NS = 10_000_000
"""From the setting to the music, beyond the time that its bytes take on a cable."""
MOST_TOGETHER = 64
"""Messages of a first moment: those of the drone's tones and their bends are a dozen."""
ALONE_NS = 1_000_000_000
"""A drone that nothing follows for so long may come out of a slow cable some hundredths late: it has no rhythm."""
SLEPT_NS = 500_000_000
"""What is later than that is no late message, but a machine that was asleep."""


@dataclass(frozen=True, slots=True)
class Ended:
    """How a piece ended: played out (`finished`), or by a command, a deed or a signal; where, and how well timed."""

    finished: bool
    command: Enum | None
    at: Beats
    timing: Timing


@dataclass(frozen=True, slots=True)
class Means:
    """What a piece is played with."""

    keeper: Keeper
    clock: Clock
    watch: PortWatch
    idle: Callable[[], None] | None


def hush_and_wait(keeper: Keeper, clock: Clock) -> None:
    """Hush, twice, and give the instrument time to hear it each time. Nothing, when that was done already."""
    if keeper.hush():
        clock.sleep_ns(HEARD_NS)
        keeper.insist()
        clock.sleep_ns(HEARD_NS)


def _opens_alone(rest: Iterable[Moment]) -> bool:
    """Whether the first tones stand alone, so that they need not wait for the setting to have passed a cable."""
    if not isinstance(rest, tuple) or not rest:
        return False
    first = [moment for moment in rest[:MOST_TOGETHER] if moment.due_ns == rest[0].due_ns]
    after = rest[len(first)].due_ns if len(first) < len(rest) else rest[0].due_ns
    return after - rest[0].due_ns >= ALONE_NS and all(moment.wire[0] & 0x0F != STRUCK for moment in first)


class Playing:
    """One piece on its way; `run` keeps its place."""

    def __init__(self, means: Means, noted: Noted, asked: Asked, obey: Obey) -> None:
        self.run: Run | None = None
        self._means, self._noted, self._asked, self._obey = means, noted, asked, obey
        self._lateness = Lateness()

    def to_the_end(self, piece: Music, start: Beats) -> Ended:
        """Play. What sounds when it ends, or when something is raised, still sounds: see `Player`."""
        run = self._come_in(piece, piece.tempo_map.seconds_at(start))
        while True:
            if near(self._means.clock, run.due_ns, self._called):
                if self._is_played_on(run):
                    continue
                return self._ended(run, finished=True)
            outcome = self._heed(run)
            if isinstance(outcome, Ended):
                return outcome
            run = outcome

    def _called(self, left_ns: int) -> bool:
        """Whether something is asked; looks after the caller's business on the way."""
        if self._means.idle and left_ns > LOOK_WITHIN_NS:
            self._means.idle()
        noted = self._noted.ending is not None or self._noted.sleeping
        return noted or not self._asked.empty() or self._means.watch.is_back(self._means.clock.now_ns(), left_ns)

    def _is_played_on(self, run: Run) -> bool:
        """Send what is due next, on its moment, and what is due by then; False when all is over."""
        due = run.due_ns
        assert due is not None, "only what is due is waited for"  # noqa: S101 - see `near`
        if run.over:
            watched(self._means.clock, due)
            return False
        self._go_on_after_sleep(run)
        self._send_next(run)
        self._send_due(run)
        return True

    def _go_on_after_sleep(self, run: Run) -> None:
        """Where the machine slept, the music goes on where it was."""
        late = 0 if run.due_ns is None else self._means.clock.now_ns() - run.due_ns
        if late > SLEPT_NS:
            run.begins_ns += late

    def _send_due(self, run: Run) -> None:
        """Send all that is due by now."""
        while not run.over and run.due_ns is not None and run.due_ns <= self._means.clock.now_ns():
            self._send_next(run)

    def _send_next(self, run: Run) -> None:
        """Send what is due together on its moment, made ready before, each measured against it.

        Between two messages nothing is done but to read the clock: on a cable each waits for those before it.
        """
        keeper, clock, due = self._means.keeper, self._means.clock, run.due_ns
        assert due is not None, "what is paused is not sent"  # noqa: S101 - see `_send_due`
        wires = run.take()
        send, now_ns, late = keeper.ready(wires), clock.now_ns, list[int]()
        watched(clock, due)
        for wire in wires:
            late.append(now_ns() - due)
            send(wire)
        keeper.sent(wires)
        if not self._means.watch.gone:  # what is sent while the port is away reaches nobody
            self._lateness.count(late)

    def _heed(self, run: Run) -> Run | Ended:
        """Do what is asked, the most pressing first."""
        if self._noted.ending is not None:
            return self._ended(run)
        if self._noted.sleeping:
            return self._sleep(run)
        if self._means.watch.take_back():
            return self._greet(run)
        asked = self._asked.get_nowait()
        if isinstance(asked, Act | Seek | ChangeTo):
            return self._do(run, asked, None)
        return self._do(run, self._obey(asked), asked)

    def _do(self, run: Run, deed: Deed, command: Enum | None) -> Run | Ended:
        if isinstance(deed, Seek):
            return self._seek(run, deed.to)
        if isinstance(deed, ChangeTo):
            return self._change(run, deed.piece)
        if deed is Act.STOP:
            return self._ended(run, command=command)
        if deed is Act.GO_ON:
            return run
        return self._pause(run) if run.paused_at is None else self._come_in(run.piece, run.paused_at)

    def _come_in(self, piece: Music, second: Seconds) -> Run:
        joined = entered(piece, second)
        took_ns = self._send_all(joined.at_once) * BYTE_NS
        lead_ns = LEAD_NS + (0 if _opens_alone(joined.rest) else took_ns)
        self.run = Run(piece, joined.rest, self._means.clock.now_ns() + lead_ns - nanoseconds(second))
        return self.run

    def _pause(self, run: Run) -> Run:
        run.paused_at = run.second_at(self._means.clock.now_ns())
        self._means.keeper.still()
        return run

    def _seek(self, run: Run, to: Beats) -> Run:
        second, ends = run.piece.tempo_map.seconds_at(max(to, Beats(0))), run.piece.duration
        second = second if ends is None else min(second, ends)
        if run.paused_at is not None:
            run.paused_at = second
            return run
        self._means.keeper.still()
        return self._come_in(run.piece, second)

    def _change(self, run: Run, new: Music) -> Run:
        if isinstance(new, Piece):
            return self._cross(new)
        if run.paused_at is None and (gone_over := self._gone_over(run, new)):
            return gone_over
        self._means.keeper.still()
        return self._come_in(new, Seconds(0))

    def _gone_over(self, run: Run, new: Endless) -> Run | None:
        """What has no end goes over to another of its kind in step; None if it is not. No moment is lost or doubled."""
        now = self._means.clock.now_ns()
        self._go_on_after_sleep(run)
        self._send_due(run)
        taken_up = new.after(run.piece, run.sent_to(now))
        if taken_up is None:
            return None
        leaving = [key for key in self._means.keeper.sounding if key not in taken_up.stays]
        self._send_all(taken_up.at_once)
        self._send_all(map(note_off, leaving))
        self.run = Run(taken_up.piece, taken_up.rest, run.begins_ns)
        return self.run

    def _cross(self, new: Piece) -> Run:
        crossed = crossing(self._means.keeper.sounding, new)
        begins_ns = self._means.clock.now_ns()
        self._send_all(crossed.at_once)
        self.run = Run(crossed.piece, crossed.rest, begins_ns)
        return self.run

    def _greet(self, run: Run) -> Run:
        """Silence the instrument that is back, set it up again, and give it what should sound now."""
        self._means.keeper.hush_all()
        if run.paused_at is not None:
            return run
        joined = entered(run.piece, run.second_at(self._means.clock.now_ns()))
        self._send_all(joined.at_once)
        self.run = Run(run.piece, joined.rest, run.begins_ns)
        return self.run

    def _sleep(self, run: Run) -> Run:
        """Ctrl-Z: be silent first, and stay paused when the process goes on."""
        if run.paused_at is None:
            self._pause(run)
        hush_and_wait(self._means.keeper, self._means.clock)
        self._noted.sleep_now()
        return run

    def _send_all(self, wires: Iterable[bytes]) -> int:
        """Send at once. How many bytes that took."""
        took = 0
        for wire in wires:
            self._means.keeper.send(wire)
            took += len(wire)
        return took

    def _ended(self, run: Run, *, finished: bool = False, command: Enum | None = None) -> Ended:
        at = run.place_at(self._means.clock.now_ns()).moment
        return Ended(finished, command, at, self._lateness.timing)
