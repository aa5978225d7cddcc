"""How punctually live messages go out, beside the barest timer there is, and how soon the first one does.

Run     python tests/benchmarks/bench_live.py [--minutes M]
Yardstick  a loop that sleeps until 1.5 ms before each moment and then watches the clock, doing nothing else: the least
           error that Python on this machine gives. It takes turns with the player, so that a busy machine is busy for
           both.
Rule    the session is that of the tests: drone, changes, solo, clicks. Errors are from the moment due to the moment the
        port has taken the message, so the player's have the 0.02 ms of sending in them. The port is JACK's where
        `jackd` and python-rtmidi are there (a dummy driver), else none. With `--minutes` one long session is played as
        well, and its drift told: the most punctual message of the last third against that of the first.
Units   milliseconds.
"""

from __future__ import annotations

import argparse
import os
import shutil
import sys
import time
from collections.abc import Callable, Iterator, Sequence
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
ROUNDS = 4
SHARES = (0.5, 0.99, 0.999)
FRAMES = 128
Send = Callable[[bytes], None]


def bare(dues_ns: Sequence[int]) -> list[int]:
    """The errors of the yardstick, in nanoseconds."""
    now_ns, begins_ns, errors = time.perf_counter_ns, time.perf_counter_ns() + 10_000_000, []
    for due_ns in dues_ns:
        at_ns = begins_ns + due_ns
        left_ns = at_ns - now_ns()
        if left_ns > WATCH_NS:
            time.sleep((left_ns - WATCH_NS) / 1e9)
        while now_ns() < at_ns:
            pass
        errors.append(now_ns() - at_ns)
    return errors


def ours(made: Piece, send: Send) -> tuple[list[int], float]:
    """The errors of the player in nanoseconds, and how long the first message took, in milliseconds."""
    sent: list[int] = []
    now_ns = time.perf_counter_ns

    def take(wire: bytes) -> None:
        send(wire)
        sent.append(now_ns())

    asked_ns = now_ns()
    player = Player(take)
    player.play(made, SimpleQueue())
    music = sent[len(made.setting) :][: len(made.moments)]
    errors = [at - moment.due_ns for at, moment in zip(music, made.moments, strict=True)]
    # The beginning is the player's own; the earliest message tells where it is.
    begins_ns = min(errors)
    return [error - begins_ns for error in errors], (sent[0] - asked_ns) / 1e6


def shares_ms(errors: Sequence[int]) -> list[float]:
    ranked = sorted(errors)
    return [ranked[min(int(share * len(ranked)), len(ranked) - 1)] / 1e6 for share in SHARES] + [ranked[-1] / 1e6]


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
        theirs, found, firsts = [], [], []
        for _ in range(ROUNDS):
            theirs += bare([moment.due_ns for moment in short.moments])
            errors, first_ms = ours(short, send)
            found += errors
            firsts.append(first_ms)
        told, yardstick = shares_ms(found), shares_ms(theirs)
        print(f"{'':12}{'p50':>9}{'p99':>9}{'p99.9':>9}{'worst':>9}")
        for words, each in (("bare timer", yardstick), ("player", told)):
            print(f"{words:12}" + "".join(f"{value:9.3f}" for value in each))
        print(f"{'ratio':12}" + "".join(f"{a / b:9.2f}" for a, b in zip(told, yardstick, strict=True)))
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
