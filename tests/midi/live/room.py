"""A player, its instrument and a clock that we turn: what is asked at a moment of the music is asked by that clock."""

from __future__ import annotations

from collections.abc import Callable
from queue import SimpleQueue

from droner.live.words import Asked, Deed
from droner.midi.live.commands import Command
from droner.midi.live.moments import NANOSECONDS
from droner.midi.live.player import Player
from droner.midi.live.port_watch import PortState
from tests.midi.live.fakes import FakeClock, Instrument


class Room:
    """A player, its instrument, and the clock; things are asked at moments of the music."""

    def __init__(self) -> None:
        self.clock = FakeClock()
        self.instrument = Instrument(self.clock)
        self.asked: Asked = SimpleQueue()
        self.state = PortState.SAME
        self.player = Player(self.instrument.hear, self.clock, look=self.look)
        self.clock.when_asleep = self._turn
        self._plans: list[tuple[float, Callable[[], None]]] = []
        self._begun_ns = self.clock.ns

    def look(self) -> PortState:
        state, self.state = self.state, PortState.SAME
        return state

    def at(self, second: float, do: Callable[[], None]) -> None:
        """Do something so many seconds from now."""
        self._plans.append((self.clock.ns + second * NANOSECONDS, do))

    def ask(self, second: float, what: Command | Deed) -> None:
        self.at(second, lambda: self.asked.put(what))

    def _turn(self) -> None:
        for plan in [plan for plan in self._plans if plan[0] <= self.clock.ns]:
            self._plans.remove(plan)
            plan[1]()

    def onsets_ns(self) -> list[int]:
        """When notes began."""
        return [when for when, wire in self.instrument.received if wire[0] & 0xF0 == 0x90]
