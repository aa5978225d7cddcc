"""Seat each tone on a channel, so that no sounding tone is bent by another.

Rule    a tone takes the channel that has been silent longest, which makes neighbours alternate; one that
        fell silent this very moment only if its bend stays, for its release still sounds. With no
        silent channel it joins one that has the same bend and not the same key. Then it is an error.
        A tone that moves has its channel for itself, and leaves it with the bend that it ends on.
Units   onsets and ends in quarter notes (Beats); channels 1..16.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from droner.midi.bend import BentKey, bent_key
from droner.midi.controller_table import CENTRE_BEND
from droner.score.score import Tone
from droner.units import Beats

BEFORE_ALL = Beats(-1)


@dataclass(frozen=True, slots=True)
class Span:
    """What has to be seated: from `onset` to `end`, on a key bent so at first; a moving one has a last bend too."""

    onset: Beats
    end: Beats
    bent: BentKey
    last_bend: int | None = None

    @classmethod
    def still(cls, onset: Beats, end: Beats, hz: float) -> Span:
        """A tone that stands at its hertz."""
        return cls(onset, end, bent_key(hz))


@dataclass(frozen=True, slots=True)
class Seat:
    """Where a tone plays. `moves` says that the channel must be bent anew before it."""

    channel: int
    key: int
    bend: int
    moves: bool


@dataclass(slots=True)
class _Chair:
    """A channel while tones are being seated: its bend, and until when each key sounds."""

    channel: int
    bend: int = CENTRE_BEND
    silent_from: Beats = BEFORE_ALL
    moves_until: Beats = BEFORE_ALL
    keys: dict[int, Beats] = field(default_factory=dict)

    def releases(self, onset: Beats, bend: int) -> bool:
        """Whether a new bend now would be heard in a release."""
        return self.silent_from == onset and self.bend != bend

    def can_share(self, onset: Beats, bent: BentKey) -> bool:
        """Whether a tone can join those that sound here."""
        stands = self.bend == bent.bend and self.moves_until <= onset
        return stands and self.keys.get(bent.key, BEFORE_ALL) <= onset

    def take(self, span: Span) -> Seat:
        """Seat a tone here."""
        seat = Seat(self.channel, span.bent.key, span.bent.bend, moves=self.bend != span.bent.bend)
        self.bend = span.bent.bend if span.last_bend is None else span.last_bend
        self.keys[span.bent.key] = span.end
        self.silent_from = max(self.silent_from, span.end)
        if span.last_bend is not None:
            self.moves_until = span.end
        return seat


def seats(spans: Iterable[Span], channels: Sequence[int]) -> tuple[Seat, ...]:
    """A seat for each span, in the same order; spans come in order of onset. ValueError when full."""
    chairs = [_Chair(channel) for channel in channels]
    return tuple(_chair_for(span, chairs).take(span) for span in spans)


def _chair_for(span: Span, chairs: list[_Chair]) -> _Chair:
    onset, bent = span.onset, span.bent
    silent = [chair for chair in chairs if chair.silent_from <= onset]
    if silent:
        return min(silent, key=lambda chair: (chair.releases(onset, bent.bend), chair.silent_from.exact))
    for chair in chairs if span.last_bend is None else ():
        if chair.can_share(onset, bent):
            return chair
    raise ValueError(f"more tones at beat {onset.exact} than the {len(chairs)} channels can tune apart")


def most_at_once(tones: Iterable[Tone]) -> int:
    """The largest number of tones that sound together; one that ends makes room for one that begins."""
    turns = []
    for tone in tones:
        turns += [(tone.onset.exact, 1), ((tone.onset + tone.length).exact, -1)]
    sounding = most = 0
    for _, turn in sorted(turns):
        sounding += turn
        most = max(most, sounding)
    return most


def spare(own: tuple[int, ...], need: int, wanted: int) -> tuple[int, ...]:
    """As many of its `own` channels as a part can lend of those `wanted`, the last first to go."""
    lent = max(min(wanted, len(own) - need), 0)
    return own[len(own) - lent :]
