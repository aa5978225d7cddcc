"""Write a score as a Standard MIDI File, format 1.

Rule    a conductor's track, then Solo, Drone, Changes and Click, each there even when it is empty; all end where
        the score ends. The same score gives the same bytes. The file appears whole or not at all.
Source  SMF 1.0. mido lays out chunks, deltas and running status; every other byte is made in this folder.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from io import BytesIO
from pathlib import Path

import mido

from droner.midi.balance import EVEN_BALANCE, Balance
from droner.midi.channel_table import Part
from droner.midi.conductor import Meta, MetaEvent, conductor, name
from droner.midi.events import timed_messages
from droner.midi.message import TimedMessage
from droner.midi.ticks import LONGEST_DELTA, PPQ, tick_at
from droner.score.score import Score
from droner.units import Beats, Ticks
from droner.whole_file import whole_file

SIMULTANEOUS_TRACKS = 1


def _always_wanted() -> None:
    pass


def write_smf(
    path: Path,
    score: Score,
    balance: Balance = EVEN_BALANCE,
    *,
    still_wanted: Callable[[], None] = _always_wanted,
) -> None:
    """Write the file. MachineError, with the file named, when the machine will not have it.

    `still_wanted` is called while a pipe lets us wait, and may raise to give up.
    """
    data = smf_bytes(score, balance)
    with whole_file(path, still_wanted) as file:
        file.write(data)


def smf_bytes(score: Score, balance: Balance = EVEN_BALANCE) -> bytes:
    """The bytes of the file."""
    messages = timed_messages(score, balance)
    tracks = [_track(conductor(score), score.length)]
    for part in Part:
        own = [message for message in messages if message.part is part]
        tracks.append(_track([name(part.value), *own], score.length))
    whole = BytesIO()
    mido.MidiFile(type=SIMULTANEOUS_TRACKS, ticks_per_beat=PPQ, tracks=tracks).save(file=whole)
    return whole.getvalue()


def _track(events: Sequence[MetaEvent | TimedMessage], end: Beats) -> mido.MidiTrack:
    track = mido.MidiTrack()
    reached = Ticks(0)
    for event in events:
        tick = tick_at(event.moment)
        track.extend(_after(Ticks(tick - reached), event))
        reached = tick
    track.extend(_after(Ticks(tick_at(end) - reached), None))
    return track


def _after(wait: Ticks, event: MetaEvent | TimedMessage | None) -> Iterable[mido.Message | mido.MetaMessage]:
    """An event after a wait; None is the end of the track. Empty texts break up a wait too long to write."""
    rests = max(wait - 1, 0) // LONGEST_DELTA
    for _ in range(rests):
        yield mido.UnknownMetaMessage(Meta.TEXT, b"", time=LONGEST_DELTA)
    yield _as_mido(event, wait - rests * LONGEST_DELTA)


def _as_mido(event: MetaEvent | TimedMessage | None, delta: int) -> mido.Message | mido.MetaMessage:
    if event is None:
        return mido.MetaMessage("end_of_track", time=delta)
    if isinstance(event, MetaEvent):
        return mido.UnknownMetaMessage(event.meta, event.data, time=delta)
    return mido.Message.from_bytes(event.wire, time=delta)
