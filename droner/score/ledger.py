"""Write down where every tone of an item's chords sounds: the ledger of its changes.

Rule    one row a chord, in order. A tone is told by its cents against equal temperament at the same A4, and by how
        far it has moved from its anchored place; a chord has drifted as far as its root. A lap ends where the chord
        that came first comes again. Chords that do not sound, where the drone sounds alone, are not told.
Units   cents, negative below; bars numbered as on the page.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from typing import TYPE_CHECKING

from droner.score.compose import bars_of, changes_of
from droner.score.tasks import held_tones
from droner.score.tunings import ItemTuning
from droner.theory.cents import cents_between
from droner.theory.tuning import equal_hz

if TYPE_CHECKING:
    from collections.abc import Sequence

    from droner.practice.item import Item
    from droner.practice.session import Session
    from droner.score.tuned_chord import TunedChord
    from droner.theory.pitch import Pitch


@dataclass(frozen=True, slots=True)
class LedgerTone:
    """One tone of a chord."""

    pitch: Pitch
    equal_cents: float
    moved_cents: float


@dataclass(frozen=True, slots=True)
class LedgerChord:
    """One chord, and how far it has drifted. `numeral` is empty where the chord is none of those of the changes."""

    bar: int
    numeral: str
    symbol: str
    tones: tuple[LedgerTone, ...]
    drift_cents: float


def ledger(item: Item, session: Session) -> tuple[LedgerChord, ...]:
    """Every chord of an item; none where none sounds."""
    tunings, bars = ItemTuning(session, item), bars_of(item)
    onsets = [bar.onset for bar in bars]
    return tuple(
        _row(chord, bars[bisect_right(onsets, chord.event.onset) - 1].number, session.tuning.a4_hz)
        for chord in changes_of(item, session, tunings, held_tones(item, session, tunings))
    )


def laps(rows: Sequence[LedgerChord]) -> tuple[LedgerChord, ...]:
    """The chords with which a lap is over: the first one, each time it comes again."""
    return tuple(row for row in rows[1:] if row.symbol == rows[0].symbol)


def _row(chord: TunedChord, bar: int, a4_hz: float) -> LedgerChord:
    rows = zip(chord.event.tones, chord.moved_cents, strict=True)
    tones = tuple(
        LedgerTone(tone.pitch, cents_between(equal_hz(a4_hz, tone.pitch), tone.hz), moved) for tone, moved in rows
    )
    return LedgerChord(bar, chord.event.numeral, chord.event.symbol, tones, chord.drift_cents)
