"""The player's standing order, once read: instrument, tuning, time, rotation, blocks.

Rule    frozen records; every name in them has been checked against the theory and the patterns by
        `session_reading`, so nothing later has to doubt them.
Units   minutes and seconds as named; tempos in beats of the drill's meter a minute; levels in decibels.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from droner.practice.partner_table import FOLLOW, USUAL_CENTS

if TYPE_CHECKING:
    from datetime import date

    from droner.theory.instrument import Instrument, Range
    from droner.theory.key import Key
    from droner.theory.pitch import NoteName


@dataclass(frozen=True, slots=True)
class TuningOrder:
    """How the session is tuned. `reference` None: the tonic of each item (just) or C (circular temperaments).

    `chords`: how the chords of just tuning follow one another, by the name of a policy.
    """

    a4_hz: float = 440.0
    temperament: str = "just"
    reference: NoteName | None = None
    anchor: str = ""
    minor_third: str = "6/5"
    second: str = "9/8"
    seventh: str = "9/5"
    chords: str = "anchored"


@dataclass(frozen=True, slots=True)
class RotationOrder:
    """Which keys and variants, how many keys a day, and what moves them on.

    `keys` in order of the rotation, as written for the player. `done`: items finished before today, for
    moves = "when done". `begins`: first day, for moves = "by the calendar".
    """

    keys: tuple[Key, ...]
    keys_per_day: int
    variants: str
    by_calendar: bool
    begins: date | None = None
    done: int = 0


@dataclass(frozen=True, slots=True)
class LadderOrder:
    """How tempos climb from slow to target, in beats a minute.

    `climb`: in which order, by the name of a climb. `each`: what climbs by itself, the whole drill or each group of its
    items. Steps are the metronome's numbers unless a step is given in per cent or in beats a minute; from `fine_from`
    per cent of the target on they are halved. `up_after` clean runs in a row, and `clean_share` per cent of the day,
    lead up; `down_after` misses in a row lead down by `down_by` rungs. `restart`: after so many days away, at so many
    per cent of the secure tempo. `plateau_days` failing days in a row are a plateau. `runs`: per cent of the
    tempo, one run of an item each; then `end_runs` runs at `end_at` per cent.
    """

    from_bpm: Fraction
    to_bpm: Fraction
    climb: str = "straight"
    each: str = "drill"
    step_per_cent: Fraction | None = None
    step_bpm: Fraction | None = None
    fine_from: Fraction = Fraction(90)
    up_after: int = 3
    clean_share: Fraction = Fraction(70)
    down_after: int = 2
    down_by: int = 2
    restart: tuple[tuple[int, Fraction], ...] = ((1, Fraction(90)), (3, Fraction(80)), (10, Fraction(70)))
    plateau_days: int = 3
    runs: tuple[Fraction, ...] = (Fraction(100),)
    end_runs: int = 0
    end_at: Fraction = Fraction(85)


@dataclass(frozen=True, slots=True)
class PartnerOrder:
    """Who plays with the player, by how many cents it strays at most, and what the player does about it."""

    kind: str
    cents: int = USUAL_CENTS
    role: str = FOLLOW


@dataclass(frozen=True, slots=True)
class PartOrder:
    """How one part is heard: level against droner's own balance, and place from -1 (left) to 1 (right)."""

    level_db: float = 0.0
    pan: float = 0.0
    on: bool = True


@dataclass(frozen=True, slots=True)
class SoundOrder:
    """How the tracks sound."""

    drone: PartOrder = PartOrder()
    changes: PartOrder = PartOrder()
    click: PartOrder = PartOrder()
    guide: PartOrder = PartOrder(on=False)
    timbre: str = "medium"


@dataclass(frozen=True, slots=True)
class Block:
    """One part of the day's work.

    `keys` None: the keys of the day from the rotation; else these keys, every day. `variant` None: the
    rotation's; else the number of one row of the table, 0 for plain. `speeds`: per cent of the tempo, one
    repeat each. `glide`: per cent at the start and the end of every repeat, a gradual ramp. `one_key`: in one
    of the day's keys only; None leaves that to the drill. `meter` serves drills with lengths of their own, and
    rhythms that have the same felt beat. `listen_first`: the guide plays each item once before the player does.
    """

    number: int
    drill: str
    tempo_bpm: Fraction | None = None
    ladder: LadderOrder | None = None
    minutes: Fraction | None = None
    keys: tuple[Key, ...] | None = None
    one_key: bool | None = None
    variant: int | None = None
    speeds: tuple[Fraction, ...] = (Fraction(100),)
    glide: tuple[Fraction, Fraction] | None = None
    drone: str | None = None
    drone_octave: int | Literal["best"] | None = None
    changes: str | None = None
    click: str | None = None
    meter: str | None = None
    count_in_bars: int = 1
    guide: bool | None = None
    listen_first: bool = False
    partner: PartnerOrder | None = None


@dataclass(frozen=True, slots=True)
class Session:
    """The whole standing order. `file` is shown in messages as the player gave it.

    `own_logbook`: it is written down beside the session file, in none that other sessions share. `interleaved`: the
    blocks' items in turn. `weak_keys`: how many items a day come back that went badly.
    `load_growth`: per cent by which a week may hold more minutes than those before it; None for any.
    """

    file: str
    title: str
    instrument: Instrument
    level: str
    compass: Range
    minutes: Fraction
    tuning: TuningOrder
    rotation: RotationOrder
    sound: SoundOrder
    blocks: tuple[Block, ...]
    air_seconds: Fraction = Fraction(12)
    lead_in_seconds: Fraction = Fraction(2)
    seed: int = 1
    concert_keys: bool = False
    own_logbook: bool = False
    interleaved: bool = False
    rest_minutes: Fraction = Fraction(0)
    weak_keys: int = 2
    load_growth: Fraction | None = None
