"""How punctually live messages go out, beside the barest timer there is, and how soon the first one does.

Run     python tests/benchmarks/bench_live.py [--minutes M]
Yardstick  the barest timer: it sleeps until 1.5 ms before each moment, then watches the clock, then hands the moment's
        messages to the same port, one after another, and does nothing else. It takes turns with the player, so that a
        busy machine is busy for both. What messages that are due together wait for one another is in both.
Rule    the session is that of the tests: drone, changes, solo, clicks. An error is from the moment due to the moment
        at which the message is handed to the port. The first message of each moment tells of the timer alone, and is
        told apart. The port is JACK's where `jackd` and python-rtmidi are there (a dummy driver), else none. With
        `--minutes` one long session is played as well, and its drift told: the most punctual message of the last third
        against that of the first.
Units   milliseconds.
"""

from __future__ import annotations

import argparse
import os
import shutil
import sys
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from queue import SimpleQueue
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from droner.midi.live.moments import Piece, piece
from droner.midi.live.player import Player
from droner.midi.live.port import OutputPort
from droner.score.join import join
from tests.midi.live.jack import jack_server, listeners
from tests.midi.live.music import item, session

WATCH_NS = 1_500_000
ROUNDS = 8
SHARES = (0.5, 0.99, 0.999)
FRAMES = 128
Send = Callable[[bytes], None]


def bare(piece: Piece, send: Send) -> list[int]:
    """The errors of the yardstick, in nanoseconds."""
    now_ns, begins_ns, errors = time.perf_counter_ns, time.perf_counter_ns() + 10_000_000, []
    for moment in piece.moments:
        at_ns = begins_ns + moment.due_ns
        left_ns = at_ns - now_ns()
        if left_ns > WATCH_NS:
            time.sleep((left_ns - WATCH_NS) / 1e9)
        while (now := now_ns()) < at_ns:
            pass
        errors.append(now - at_ns)
        send(moment.wire)
    return errors


def ours(made: Piece, send: Send) -> tuple[list[int], float]:
    """The errors of the player in nanoseconds, and how long the first message took, in milliseconds."""
    sent: list[tuple[int, int]] = []
    now_ns = time.perf_counter_ns

    def take(wire: bytes) -> None:
        playing = player._playing
        begins = playing.run.begins_ns if playing and playing.run else 0
        sent.append((now_ns(), begins))
        send(wire)

    asked_ns = now_ns()
    player = Player(take)
    player.play(made, SimpleQueue())
    music = sent[len(made.setting) :][: len(made.moments)]
    errors = [at - begins - moment.due_ns for (at, begins), moment in zip(music, made.moments, strict=True)]
    return errors, (sent[0][0] - asked_ns) / 1e6


def firsts_of(made: Piece, errors: Sequence[int]) -> list[int]:
    """The errors of the messages that open a moment."""
    dues = [-1, *(moment.due_ns for moment in made.moments)]
    return [error for before, due, error in zip(dues, dues[1:], errors, strict=False) if due != before]


def shares_ms(errors: Sequence[int]) -> list[float]:
    ranked = sorted(errors)
    return [ranked[min(int(share * len(ranked)), len(ranked) - 1)] / 1e6 for share in SHARES] + [ranked[-1] / 1e6]


def compare(what: str, errors: Mapping[str, Sequence[int]]) -> None:
    """A table: the yardstick, the player, and the ratio."""
    print(f"{what:26}{'p50':>9}{'p99':>9}{'p99.9':>9}{'worst':>9}")
    told = {words: shares_ms(each) for words, each in errors.items()}
    for words, each in told.items():
        print(f"  {words:24}" + "".join(f"{value:9.3f}" for value in each))
    print(f"  {'ratio':24}" + "".join(f"{a / b:9.2f}" for a, b in zip(told["player"], told["bare timer"], strict=True)))


def drift_ms(errors: Sequence[int]) -> float:
    """How much later the last third went out than the first, by the most punctual message of each."""
    third = len(errors) // 3
    return (min(errors[-third:]) - min(errors[:third])) / 1e6


@contextmanager
def a_port() -> Iterator[tuple[str, Send]]:
    """JACK's, if it can be had."""
    if not shutil.which("jackd"):
        yield "no port", lambda _: None
        return
    with TemporaryDirectory() as made, jack_server(Path(made), FRAMES) as surroundings:
        os.environ.update(surroundings)
        with listeners(1, surroundings), OutputPort.called("ear0") as port:
            yield "JACK's dummy", port.send


def main() -> None:
    """Print a line each, and the ratio."""
    reading = argparse.ArgumentParser()
    reading.add_argument("--minutes", type=float, default=0)
    minutes = reading.parse_args().minutes
    short = piece(session(items=2, beats=12))
    with a_port() as (name, send):
        print(f"port: {name}; {len(short.moments)} messages a round, {ROUNDS} rounds")
        theirs: list[int] = []
        found: list[int] = []
        firsts: list[float] = []
        openings: dict[str, list[int]] = {"bare timer": [], "player": []}
        for _ in range(ROUNDS):
            plain = bare(short, send)
            errors, first_ms = ours(short, send)
            theirs, found = theirs + plain, found + errors
            openings["bare timer"] += firsts_of(short, plain)
            openings["player"] += firsts_of(short, errors)
            firsts.append(first_ms)
        compare("every message", {"bare timer": theirs, "player": found})
        compare("the first of each moment", openings)
        print(f"first message of a piece: {min(firsts):.1f} to {max(firsts):.1f} ms after the call")
        if minutes:
            long_session(minutes, send)


def long_session(minutes: float, send: Send) -> None:
    """One session of about so many minutes."""
    seconds_an_item = float(item(64).duration)
    made = piece(join("a long day", [item(64)] * max(round(minutes * 60 / seconds_an_item), 1)))
    errors, _ = ours(made, send)
    late = sum(error > 1e6 for error in errors)
    p50, p99, p999, worst = shares_ms(errors)
    print(
        f"{float(made.duration) / 60:.1f} minutes, {len(errors)} messages: p50 {p50:.3f}, p99 {p99:.3f}, "
        f"p99.9 {p999:.3f}, worst {worst:.3f} ms, {late} over 1 ms late, drift {drift_ms(errors):+.3f} ms"
    )


if __name__ == "__main__":
    main()
