"""List the keys of a session file, one a line, by their table.

Rule    key, what may stand there, what it is for, what holds when it is not written. The reader, the editors'
        schema and the documentation all come from these rows.
Units   minutes, seconds, decibels, hertz and per cent as named; tempos in beats of the meter a minute.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from fractions import Fraction

from droner.practice.ladder.climb_table import BY_TEMPO, CLIMBS
from droner.practice.partner_table import FOLLOW, KINDS, LEAST_CENTS, MOST_CENTS, ROLES, USUAL_CENTS
from droner.practice.reading.fields import Field
from droner.practice.reading.list_fields import Either, ListOf
from droner.practice.reading.name_fields import Known, Name, RowNumber, Spelled
from droner.practice.reading.pattern_table import FASTEST_BPM, METER, SLOWEST_BPM
from droner.practice.reading.plain_fields import Choice, Day, Number, Text, Whole, YesNo
from droner.practice.reading.table_fields import Table, Tables, walk
from droner.theory.instrument import INSTRUMENTS, LEVELS, instrument
from droner.theory.just_table import MINOR_THIRDS, SECONDS, SEVENTHS
from droner.theory.key import Key, key, usual_keys
from droner.theory.pitch import note_name, pitch
from droner.theory.scale import SCALES
from droner.theory.temperament import TEMPERAMENTS, temperament
from droner.theory.temperament_table import ALIASES

TODAY, ONE_OF_TODAY, ALL_KEYS, PLAIN = "today", "one of today's", "all", "plain"
BEST = "best"
IN_BLOCKS, INTERLEAVED = "in blocks", "interleaved"
MINE, BESIDE = "mine", "beside the session"
WHEN_DONE, BY_CALENDAR = "when done", "by the calendar"
CHORD_POLICIES = ("anchored", "free", "spread")
"""On a tonic that never moves; pure, with held notes that stay, so that all drifts; or a compromise of both."""
TIMBRES = ("carrying", "bright", "medium", "pure", "bare")
"""Of the drone, by name; how each sounds stands on the floor that makes the sound."""
STANDS_EQUAL, STANDS_ON_A = "where equal temperament puts it", "on the A"
FIRST_DAY = date(2026, 1, 1)
"""The first day of a rotation by the calendar, when the session says nothing about its rotation."""
LARGEST_SEED = 2**32 - 1
MOST_KEYS = 30
SEVEN = 7
TEMPO = Number(SLOWEST_BPM, FASTEST_BPM)
PER_CENT = Number(10, 200)
SHARE = Number(10, 100)
STEADY_CLIMBS = tuple(name for name in CLIMBS if name not in BY_TEMPO)
"""Climbs that stay at the target."""
EACH = ("drill", "mode", "key", "rhythm", "articulation")

_SIGN = r"(double sharp|double flat|sharp|flat|##|#|x|bb|b|\u266f|\u266d)?"
_NOTE = rf"[A-Ga-g]\s*{_SIGN}"
_NOTE_OF_A_KEY = rf"[A-Ga-g][\s-]*{_SIGN}"
_SEVEN_NOTES = (*(name for name, row in SCALES.items() if len(row.rising) == SEVEN), "minor")
_MODES = "|".join(f"[{name[0].upper()}{name[0]}]{name[1:]}" for name in _SEVEN_NOTES)
_OCTAVE = r"\s*-?[0-9]"


def _key(text: str) -> Key:
    """A key of seven degrees, which chords and studies can be counted in. ValueError for anything else."""
    found = key(text)
    if len(found.scale.rising) != SEVEN:
        raise ValueError(f"{text!r} is a scale without seven degrees: play it by a drill, in a major or minor key")
    return found


def _keys_near(text: str) -> list[str]:
    """Keys that a text could mean: usual keys, and major and minor on the note that it starts with."""
    note = text.partition(" ")[0]
    return [str(usual) for usual in usual_keys()] + [f"{note} {mode}" for mode in ("major", "minor")]


def _other_instruments() -> tuple[str, ...]:
    """Other usual names of the instruments, and "B flat clarinet" for "clarinet in B flat"."""
    others = [alias for one in INSTRUMENTS.values() for alias in one.aliases]
    pitched = [name.partition(" in ") for name in (*INSTRUMENTS, *others) if " in " in name]
    turned = [f"{note[0].upper()}{note[1:]} {kind}" for kind, _, note in pitched]
    return tuple(dict.fromkeys([*others, *turned]))


NOTE = Spelled("a note", note_name, rf"^\s*{_NOTE}\s*$", '"C", "F#", "B flat"')
PITCH = Spelled("a pitch with its octave", pitch, rf"^\s*{_NOTE}{_OCTAVE}\s*$", '"C4", "F#5", "B flat 3"')
KEY = Spelled(
    "a key",
    _key,
    rf"^\s*{_NOTE_OF_A_KEY}(m|[\s-]+({_MODES}))\s*$",
    '"Eb major", "F# minor", "D dorian"',
    near=_keys_near,
)
INSTRUMENT = Known("instrument", instrument, tuple(INSTRUMENTS), _other_instruments())
TEMPERAMENT = Known("temperament", temperament, tuple(TEMPERAMENTS), tuple(alias for alias, _ in ALIASES))

KEY_LIST = ListOf(KEY, 1, MOST_KEYS, once=True)
ORDER_OR_KEYS = Either((Name("order of keys"), KEY_LIST))
KEYS_OF_A_BLOCK = Either((Choice((TODAY, ONE_OF_TODAY, ALL_KEYS)), KEY, KEY_LIST))
VARIANT = Either((Choice((TODAY, PLAIN)), RowNumber("variant")))
OCTAVE_OF_DRONE = Either((Whole(1, 6), Choice((BEST,))))
"""By number, or computed so that beats can be counted."""
USUAL_ORDER = "half-steps up, minor then major"
STANDS = Choice((STANDS_EQUAL, STANDS_ON_A))

TUNING = (
    Field("a4", Number(380, 480), "the A above middle C, in hertz", default=440),
    Field("temperament", TEMPERAMENT, "how the notes are tuned to one another", default="just"),
    Field("reference", NOTE, "the note the temperament starts from", otherwise="the tonic in just, else C"),
    Field("tonic_stands", STANDS, "what holds the reference in place", otherwise="as is usual for the temperament"),
    Field("minor_third", Choice(MINOR_THIRDS), "the minor third of just tuning", otherwise=MINOR_THIRDS[0]),
    Field("second", Choice(SECONDS), "the major second of just tuning", otherwise=SECONDS[0]),
    Field("seventh", Choice(SEVENTHS), "the minor seventh of just tuning", otherwise=SEVENTHS[0]),
    Field("chords", Choice(CHORD_POLICIES), "just chords: anchored, free or spread", otherwise=CHORD_POLICIES[0]),
)  # fmt: skip

ROTATION = (
    Field("keys", ORDER_OR_KEYS, "an order of keys by name, or a list of keys", default=USUAL_ORDER),
    Field("start", NOTE, "the note an order starts on", otherwise="the lowest note of the compass"),
    Field("keys_per_day", Whole(1, MOST_KEYS), "how many keys a day", otherwise="6, or all when there are fewer"),
    Field("variants", Name("variant_set"), 'the set of variants to go through, or "none"', default="sixty"),
    Field("moves", Choice((WHEN_DONE, BY_CALENDAR)), "what moves the rotation on", default=BY_CALENDAR),
    Field("begins", Day(), "the first day of a rotation by the calendar", otherwise=f"{FIRST_DAY} without moves"),
    Field("done", Whole(0, 1_000_000), "items done before today, for one that moves when done", otherwise="0"),
)  # fmt: skip

PART = (
    Field("level_db", Number(-40, 6), "louder or softer than droner's own balance, in decibels", default=0),
    Field("pan", Number(-1, 1), "place from -1, left, to 1, right", default=0),
    Field("on", YesNo(), "whether the part is heard", default=True),
)
GUIDE = (*PART[:2], Field("on", YesNo(), "whether the part is heard", default=False))

SOUND = (
    Field("timbre", Choice(TIMBRES), "how the drone sounds, by name: `droner patterns timbres`", default="medium"),
    Field("drone", Table(PART), "the drone", default={}),
    Field("changes", Table(PART), "the chords", default={}),
    Field("click", Table(PART), "the click", default={}),
    Field("guide", Either((YesNo(), Table(GUIDE))), "the drill itself played for you", default=False),
)

LADDER = (
    Field("from", TEMPO, "the slowest tempo, in beats a minute", needed=True),
    Field("to", TEMPO, "the tempo to reach, in beats a minute", needed=True),
    Field("climb", Choice(tuple(CLIMBS)), "in which order it climbs: `droner patterns climbs`", default="straight"),
    Field("each", Choice(EACH), "what climbs alone: drill, mode, key, rhythm or articulation", default="drill"),
    Field("step_per_cent", Number(1, 25), "the size of a step, in per cent", otherwise="the metronome's numbers"),
    Field("step_bpm", Number(1, 40), "the size of a step, in beats a minute", otherwise="the metronome's numbers"),
    Field("fine_from", Number(50, 100), "from this per cent of the target on, steps are halved", default=90),
    Field("up_after", Whole(1, 20), "clean runs in a row that lead up", default=3),
    Field("clean_share", Number(0, 100), "per cent of the day's runs that must be clean too", default=70),
    Field("down_after", Whole(1, 20), "missed runs in a row that lead down", default=2),
    Field("down_by", Whole(0, 20), "how many rungs they lead down", default=2),
    Field("after_a_night", SHARE, "per cent of the secure tempo that the next day opens with", default=90),
    Field("after_3_days", SHARE, "per cent of it to start again at, three days after the last time", default=80),
    Field("after_10_days", SHARE, "per cent of it to start again at, ten days after the last time", default=70),
    Field("plateau_days", Whole(1, 60), "days without getting on that are called a plateau", default=3),
    Field("runs", ListOf(PER_CENT, 1, 12), "runs of an item, each at this per cent of the tempo", default=[100]),
    Field("end_runs", Whole(0, 4), "slower runs at the end of an item", default=0),
    Field("end_at", Number(50, 100), "per cent of the tempo that they go at", default=85),
)  # fmt: skip

PARTNER = (
    Field("kind", Choice(tuple(kind.name for kind in KINDS)), "what makes the partner stray", needed=True),
    Field("cents", Whole(LEAST_CENTS, MOST_CENTS), "by how many cents it strays at most", default=USUAL_CENTS),
    Field("role", Choice(tuple(role.name for role in ROLES)), "what you do about it", default=FOLLOW),
)

BLOCK = (
    Field("drill", Name("drill"), "what is played", needed=True),
    Field("tempo", TEMPO, "its tempo, in beats a minute", otherwise="the drill's own, unless there is a ladder"),
    Field("ladder", Table(LADDER), "tempos from slow to target, climbed by the logbook", otherwise="no ladder"),
    Field("minutes", Number(Fraction(1, 2), 240), "its time at most", otherwise="a fair part of the session"),
    Field("keys", KEYS_OF_A_BLOCK, "the keys it is played in", otherwise="today's, or one of them in turn"),
    Field("variant", VARIANT, "how it is played: the day's variant, plain, or one by number", default=TODAY),
    Field("speeds", ListOf(PER_CENT, 1, 12), "one repeat at each of these per cent of the tempo", default=[100]),
    Field("glide", ListOf(PER_CENT, 2, 2), "per cent of the tempo at both ends of a repeat", otherwise="steady"),
    Field("drone", Name("drone"), "what the drone holds", otherwise="what suits the drill"),
    Field("drone_octave", OCTAVE_OF_DRONE, "the octave the drone lies in", otherwise="3, or 2 for low instruments"),
    Field("changes", Name("changes"), "the chords under it", otherwise="what suits the drill"),
    Field("click", Name("click"), "where clicks fall", otherwise="the variant's, or what suits the drill"),
    Field("meter", METER, "its meter", otherwise="the drill's or the rhythm's"),
    Field("count_in", Whole(0, 4), "bars counted before the start", default=1),
    Field("guide", YesNo(), "whether the drill is played for you", otherwise="as under [sound]"),
    Field("listen_first", YesNo(), "whether the guide plays each item once before you do", default=False),
    Field("partner", Table(PARTNER), "who the drone plays, straying as a partner does", otherwise="a drone is still"),
)  # fmt: skip

SESSION = Table(
    (
        Field("title", Text(100), "what the session is called", default="Practice"),
        Field("instrument", INSTRUMENT, "what you play", default="flute"),
        Field("level", Choice(LEVELS), "how far your compass reaches", default="advanced"),
        Field("minutes", Number(5, 240), "the time you have", default=25),
        Field("range", ListOf(PITCH, 2, 2), "your lowest and highest note, as you read them", otherwise="by level"),
        Field("air_seconds", Number(3, 30), "how long one breath lasts, in seconds", default=12),
        Field("lead_in_seconds", Number(0, 30), "how long the drone is alone before the count-in", default=2),
        Field("seed", Whole(0, LARGEST_SEED), "the start of everything left to chance", default=1),
        Field("order", Choice((IN_BLOCKS, INTERLEAVED)), "block by block, or their items in turn", default=IN_BLOCKS),
        Field("rest_minutes", Number(0, 30), "an early rest, within the minutes", default=0),
        Field("weak_keys", Whole(0, 12), "how many items a day come back that went badly", default=2),
        Field("load_growth", Number(0, 100), "per cent more minutes than in the weeks before", otherwise="any"),
        Field("logbook", Choice((MINE, BESIDE)), "where it is written down what you played", default=MINE),
        Field("concert_keys", YesNo(), "keys are named as they sound, not as you read them", default=False),
        Field("tuning", Table(TUNING), "how everything is tuned", default={}),
        Field("rotation", Table(ROTATION), "which keys and variants come on which day", default={}),
        Field("sound", Table(SOUND), "how the tracks sound", default={}),
        Field("block", Tables(Table(BLOCK), 1, 40, name="block"), "the parts of the day's work", needed=True),
    )
)  # fmt: skip
LISTS = frozenset({"block"})
"""Tables that are written with two brackets."""


def session_keys() -> Iterator[tuple[str, Field]]:
    """Every key of a session file with the dotted name of its table, "" for the top."""
    return walk(SESSION)
