"""Keys held on a keyboard, by the hand's own time. Referee: MIDI 1.0, messages as hex; spans counted by hand."""

from __future__ import annotations

from collections.abc import Iterable

import pytest

from droner.midi.live.held_keys import HeldKeys

MS = 1_000_000


class Hand:
    """A keyboard whose clock we turn."""

    def __init__(self) -> None:
        self.ms = 0
        self.told: list[tuple[int, ...]] = []
        self.keys = HeldKeys(lambda: self.ms * MS)

    def play(self, *parts: tuple[int, str]) -> list[tuple[int, ...]]:
        """At each millisecond a message, looked after every ten; then half a second of nothing."""
        plan = sorted(parts)
        for ms in range(0, plan[-1][0] + 500, 10):
            self.ms = ms
            due = [bytes.fromhex(wire) for when, wire in plan if ms - 10 < when <= ms]
            waiting = iter(due)
            self.keys.poll(lambda waiting=waiting: next(waiting, None), self.told.append)  # type: ignore[misc] # a default binds it
        return self.told


def test_keys_pressed_together_are_told_once() -> None:
    assert Hand().play((0, "90 3e 40"), (20, "90 39 40"), (35, "90 42 40")) == [(57, 62, 66)]


def test_keys_let_go_one_after_another_tell_nothing_and_the_drone_stays() -> None:
    told = Hand().play((0, "90 3e 40"), (10, "90 39 40"), (1000, "80 3e 40"), (1120, "90 39 00"))
    assert told == [(57, 62)]


def test_a_key_let_go_while_others_are_held_leaves() -> None:
    told = Hand().play((0, "90 3e 40"), (10, "90 39 40"), (1000, "80 3e 40"), (2000, "80 39 40"))
    assert told == [(57, 62), (57,)]


def test_a_new_chord_after_the_old_one_was_let_go_is_the_new_one_alone() -> None:
    told = Hand().play((0, "90 3e 40"), (500, "80 3e 40"), (700, "91 40 40"), (710, "91 47 40"))
    assert told == [(62,), (64, 71)]


@pytest.mark.parametrize("panic", ["b0 7b 00", "b0 78 00"])
def test_all_notes_off_lets_go_of_its_channel(panic: str) -> None:
    told = Hand().play((0, "90 3e 40"), (0, "91 40 40"), (500, panic), (1000, "91 45 40"))
    assert told == [(62, 64), (64,), (64, 69)]


@pytest.mark.parametrize("others", [("b0 40 7f", "b0 40 00"), ("c0 05",), ("e0 00 40",), ("d0 30",)])
def test_nothing_else_of_a_keyboard_counts(others: Iterable[str]) -> None:
    assert Hand().play((0, "90 3e 40"), *((300, other) for other in others)) == [(62,)]
