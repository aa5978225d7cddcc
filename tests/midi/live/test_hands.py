"""Referee: MIDI 1.0 (a controller is on from 64; velocity 0 ends a note); pedals as people press them."""

from __future__ import annotations

import pytest

from droner.midi.live.commands import Command
from droner.midi.live.hands import Hands, Mapping, Press, Thing, heard, learn

PEDAL = Press(Thing.CONTROLLER, 1, 64)
DOWN, UP = bytes.fromhex("B0 40 7F"), bytes.fromhex("B0 40 00")
MAPPING = Mapping(((PEDAL, Command.NEXT), (Press(Thing.PROGRAM, 2, 5), Command.AGAIN)))
MILLISECOND_NS = 1_000_000


class Foot:
    """Presses at moments, in milliseconds."""

    def __init__(self) -> None:
        self.ms = 0.0
        self.hands = Hands(MAPPING, lambda: int(self.ms * MILLISECOND_NS))

    def moves(self, *moves: tuple[float, bytes]) -> list[tuple[float, Command]]:
        found = []
        for self.ms, wire in moves:
            command = self.hands.hear(wire)
            if command:
                found.append((self.ms, command))
        return found


@pytest.mark.parametrize(
    ("message", "press"),
    [
        ("B0 40 7F", (PEDAL, True)),
        ("B0 40 40", (PEDAL, True)),
        ("B0 40 3F", (PEDAL, False)),
        ("B0 40 00", (PEDAL, False)),
        ("C1 05", (Press(Thing.PROGRAM, 2, 5), True)),
        ("99 24 01", (Press(Thing.NOTE, 10, 36), True)),
        ("99 24 00", (Press(Thing.NOTE, 10, 36), False)),
        ("89 24 40", (Press(Thing.NOTE, 10, 36), False)),
        ("E0 00 40", None),
        ("D0 40", None),
        ("FE", None),
        ("F0 7E 7F 06 01 F7", None),
    ],
)
def test_what_a_message_tells_of(message: str, press: tuple[Press, bool] | None) -> None:
    assert heard(bytes.fromhex(message)) == press


def test_a_press_is_one_command_and_its_release_none() -> None:
    assert Foot().moves((0, DOWN), (150, UP)) == [(0, Command.NEXT)]


def test_a_pedal_that_bounces_gives_one_command() -> None:
    bouncing = [(0, DOWN), (3, UP), (5, DOWN), (9, UP), (11, DOWN), (900, UP), (903, DOWN), (906, UP)]
    foot = Foot()
    assert foot.moves(*bouncing) == [(0, Command.NEXT)]
    assert foot.hands.ignored == 3


def test_a_foot_that_presses_three_times_a_second_is_heard_three_times() -> None:
    presses = [(place * 333.0 + after, wire) for place in range(3) for after, wire in ((0, DOWN), (240, UP))]
    assert len(Foot().moves(*presses)) == 3


def test_a_pedal_that_never_says_up_is_heard_each_time() -> None:
    assert len(Foot().moves(*((place * 250.0, DOWN) for place in range(4)))) == 4


def test_a_flood_is_one_command_and_counted() -> None:
    foot = Foot()
    flood = [(place / 3, (DOWN, UP)[place % 2]) for place in range(30_000)]
    assert foot.moves(*flood) == [(0, Command.NEXT)]
    assert foot.hands.ignored == 14_999


def test_other_pedals_are_heard_during_a_flood() -> None:
    moves = [(place, DOWN) for place in range(100)]
    moves.insert(50, (50, bytes.fromhex("C1 05")))
    assert Foot().moves(*moves) == [(0, Command.NEXT), (50, Command.AGAIN)]


def test_a_flood_cannot_hold_up_the_music() -> None:
    taken = []

    def endless() -> bytes:
        taken.append(DOWN)
        return DOWN

    given: list[Command] = []
    Foot().hands.poll(endless, given.append)
    assert given == [Command.NEXT]
    assert len(taken) < 1000


def test_a_poll_gives_what_has_come() -> None:
    waiting = [bytes.fromhex("FE"), DOWN, bytes.fromhex("C1 05")]
    given: list[Command] = []
    Foot().hands.poll(lambda: waiting.pop(0) if waiting else None, given.append)
    assert given == [Command.NEXT, Command.AGAIN]


def test_an_unknown_pedal_does_nothing() -> None:
    assert Foot().moves((0, bytes.fromhex("B0 43 7F"))) == []


def test_a_pedal_is_learned_by_pressing_it() -> None:
    waiting = [bytes.fromhex("F8"), UP, bytes.fromhex("B3 50 64"), DOWN]
    learned = learn(lambda: waiting.pop(0) if waiting else None)
    assert learned == Press(Thing.CONTROLLER, 4, 80)
    mapping = MAPPING.with_pair(Press(Thing.CONTROLLER, 4, 80), Command.PAUSE).with_pair(PEDAL, Command.END)
    assert mapping.command(Press(Thing.CONTROLLER, 4, 80)) is Command.PAUSE
    assert mapping.command(PEDAL) is Command.END
    assert MAPPING.command(PEDAL) is Command.NEXT, "a mapping never changes"


def test_nothing_is_learned_from_silence() -> None:
    assert learn(lambda: None, seconds=0.05) is None


def test_a_press_says_what_it_is() -> None:
    assert str(PEDAL) == "controller 64 on channel 1"
