"""Write down one thing that was played, and how it went.

Rule    an entry never changes. A correction is a new entry that names the one it stands for; a correction of no runs
        takes the old one back. The day is the player's own, as their calendar said it where they played; `written` only
        orders the entries of one day. So neither summer time nor a flight across the date line moves a day.
Units   bpm is the tempo on the drill's ladder, in felt beats a minute, before a dense rhythm slows the beat; `seconds`
        of playing, None when not known; `written` in UTC, whole microseconds.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from fractions import Fraction

BY_EAR, BY_PEDAL, BY_LISTENING = "by ear", "by pedal", "by listening"
JUDGED = (BY_EAR, BY_PEDAL, BY_LISTENING)
"""Who judged: the player afterwards, the player during the music, or the analysis of a take."""
MOST_RUNS = 1000
MOST_BPM = 1000
MOST_SECONDS = 86_400
MOST_COUNTED = 1_000_000_000
"""The last place of the rotation and the last variant: out of reach, and a whole number to every program."""
FINEST = 1_000_000_000
"""The largest denominator of a tempo or of seconds, so that both parts of a fraction are whole numbers of 64 bits."""
LONGEST_NAME, LONGEST_NOTE = 200, 2000
_IN_NO_FILE = re.compile("[\x00\ud800-\udfff]")
"""A zero ends a text in many programs; half a surrogate pair has no UTF-8 (Unicode 3.9, D92)."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One item, played `total` times at one tempo, `clean` of them without a miss.

    `name` is the entry's own, drawn by chance: 32 hexadecimal digits. `session` is its title. `key` as the player reads
    it, "" for none; `variant` the number of its row, 0 for plain; `place` its index in the rotation, None when it did
    not follow it. `step` names the rung of a ladder that does not climb by tempo. `corrects`: the name of the entry
    that this one stands for.
    """

    name: str
    written: datetime
    day: date
    session: str
    instrument: str
    drill: str
    key: str
    variant: int
    place: int | None
    bpm: Fraction
    step: str
    clean: int
    total: int
    seconds: Fraction | None = None
    judged: str = BY_EAR
    note: str = ""
    corrects: str = ""

    def __post_init__(self) -> None:
        if problems := _problems(self):
            raise ValueError("; ".join(problems))

    @property
    def takes_back(self) -> bool:
        """Whether it says that an earlier entry should not have been made."""
        return self.total == 0


def _problems(entry: Entry) -> list[str]:
    """What cannot be: the same limits as the store's own."""
    names = (entry.session, entry.instrument, entry.drill, entry.key, entry.step)
    seconds = Fraction(0) if entry.seconds is None else entry.seconds
    place = 0 if entry.place is None else entry.place
    checks = (
        (_is_name(entry.name), f"{entry.name!r} is no name of an entry: 32 hexadecimal digits"),
        (not entry.corrects or _is_name(entry.corrects), f"{entry.corrects!r} is no name of an entry"),
        (entry.written.utcoffset() == timedelta(0), "the moment of writing is told in UTC"),
        (0 <= entry.clean <= entry.total <= MOST_RUNS, f"{entry.clean} clean of {entry.total} runs cannot be"),
        (entry.total > 0 or bool(entry.corrects), "an entry of no runs must name the one that it takes back"),
        (0 < entry.bpm <= MOST_BPM, f"{entry.bpm} beats a minute cannot be played"),
        (max(entry.bpm.denominator, seconds.denominator) <= FINEST, f"fractions are of {FINEST:,} parts at most"),
        (0 <= entry.variant <= MOST_COUNTED, f"variants count from 1 to {MOST_COUNTED:,}; 0 is plain"),
        (0 <= place <= MOST_COUNTED, f"places of the rotation count from 0 to {MOST_COUNTED:,}"),
        (0 <= seconds <= MOST_SECONDS, "a day has no such length"),
        (entry.judged in JUDGED, f"{entry.judged!r} is none of {', '.join(JUDGED)}"),
        (bool(entry.drill), "a drill has a name"),
        (max(map(len, names)) <= LONGEST_NAME, f"a name has {LONGEST_NAME} letters at most"),
        (len(entry.note) <= LONGEST_NOTE, f"a note has {LONGEST_NOTE} letters at most"),
        (not _IN_NO_FILE.search("".join((*names, entry.note))), "a text holds a sign that no file can keep"),
    )
    return [problem for holds, problem in checks if not holds]


def _is_name(text: str) -> bool:
    return len(text) == 32 and set(text) <= set("0123456789abcdef")


def moment(text: str) -> datetime:
    """The moment in an ISO 8601 text with its offset, in UTC. ValueError for anything else."""
    told = datetime.fromisoformat(text)
    if told.tzinfo is None:
        raise ValueError(f"{text!r} does not say how far it is from UTC")
    try:
        return told.astimezone(UTC)
    except OverflowError:
        raise ValueError(f"{text!r} lies outside the years that a calendar has") from None
