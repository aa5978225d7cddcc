"""Be an instrument of JACK, in a process of its own: receive, note the time, count what stands.

Run     python -m tests.midi.live.listening NAME STANDING
Rule    answers on stdout, a line for each line on stdin: `ask`, what stands here and how many notes began; `take`, all
        messages since the last time, with seconds by JACK's own clock. STANDING is what stood before, as JSON: a
        synthesiser whose cable was pulled goes on sounding. Messages are fetched when asked for: no Python runs in the
        server's own thread, where it would be late, and a late client loses a whole period.
Source  MIDI 1.0: note on with velocity 0 is a note off; 123 ends the notes of its channel. Time: RtMidi's, from JACK's.
"""

from __future__ import annotations

import json
import sys

import rtmidi

ALL_NOTES_OFF = 123
MOST_WAITING = 1_000_000


class Ear:
    """One instrument with one port."""

    def __init__(self, name: str, standing: list[list[int]]) -> None:
        self.standing = {(channel, key) for channel, key in standing}
        self.begun = 0
        self.seconds = 0.0
        self.midi = rtmidi.MidiIn(rtmidi.API_UNIX_JACK, name, queue_size_limit=MOST_WAITING)
        self.midi.ignore_types(sysex=False, timing=False, active_sense=False)
        self.midi.open_virtual_port("in")
        self.messages: list[tuple[float, str]] = []

    def fetch(self) -> None:
        while event := self.midi.get_message():
            self.hear(*event)

    def hear(self, message: list[int], wait: float) -> None:
        self.seconds += wait
        self.messages.append((self.seconds, bytes(message).hex()))
        kind, channel = message[0] & 0xF0, message[0] & 0x0F
        if kind == 0x90 and message[2]:
            self.standing.add((channel, message[1]))
            self.begun += 1
        elif kind in (0x80, 0x90):
            self.standing.discard((channel, message[1]))
        elif kind == 0xB0 and message[1] == ALL_NOTES_OFF:
            self.standing = {one for one in self.standing if one[0] != channel}

    def answer(self, word: str) -> object:
        self.fetch()
        if word == "ask":
            return {"standing": sorted(self.standing), "begun": self.begun}
        if word == "leave":
            self.midi.close_port()
            self.midi.delete()
            return True
        taken, self.messages = self.messages, []
        return taken


def main() -> None:
    ear = Ear(sys.argv[1], json.loads(sys.argv[2]))
    print("ready", flush=True)
    for line in sys.stdin:
        print(json.dumps(ear.answer(line.strip())), flush=True)


if __name__ == "__main__":
    main()
