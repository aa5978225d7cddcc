"""Play through the real loudspeaker path, in a process of its own.

Run     python -m tests.sound.live.sounding DEVICE WHAT
Rule    WHAT is `drone` (endless) or `day` (a few seconds of everything at once). It says `playing` just before it
        plays, and how it ended; a MachineError is told with exit code 3, as the command line would.
"""

from __future__ import annotations

import sys
from queue import SimpleQueue

from droner.errors import MachineError
from droner.live.machine_time import undisturbed
from droner.live.noted_signals import noted_signals
from droner.score.score import Score
from droner.sound.live.device import Speaker
from droner.sound.live.endless import standing_drone
from droner.sound.live.piece import piece
from droner.sound.live.player import Player
from droner.sound.live.source import Source
from droner.sound.mix import EachPart, Mix
from droner.units import Beats
from tests.sound.scores import chord, click, note, score, tone

EVERY_PART = Mix(guide=True, channels="stereo", pan=EachPart(drone=-0.5, click=1.0))
SECONDS = 5


def drone(names: tuple[str, ...] = ("D3", "A3"), seconds: int = SECONDS) -> Score:
    return score(Beats(seconds), drone=[tone(0, seconds, name) for name in names])


def day() -> Score:
    """A few seconds of everything: a drone, chords, clicks and a scale."""
    return score(
        Beats(SECONDS),
        drone=[tone(0, SECONDS, name) for name in ("D3", "A3")],
        changes=[chord(beat, 1, names) for beat, names in enumerate((("D4", "F#4"), ("D4", "G4")) * 2)],
        clicks=[click(beat) for beat in range(SECONDS)],
        solo=[note(beat, 1, name) for beat, name in enumerate(("D5", "E5", "F#5", "G5", "A5"))],
    )


def source(what: str, rate_hz: int) -> Source:
    return standing_drone(drone(), Mix(), rate_hz) if what == "drone" else piece(day(), EVERY_PART, rate_hz)


def main() -> None:
    device, what = sys.argv[1:]
    try:
        with Player(Speaker.called(device), noted_signals=noted_signals, undisturbed=undisturbed) as player:
            made = source(what, player.rate_hz)
            print("playing", flush=True)
            print(player.play(made, SimpleQueue()), flush=True)
    except MachineError as failure:
        print(failure, flush=True)
        sys.exit(3)


if __name__ == "__main__":
    main()
