"""Keep a drone as the player has it now: moved by degrees, half-steps and octaves, tuned anew, held on a keyboard.

Rule    what sounds is always what `droner drone` would hold of the pitches that are shown: the first is the tonic, and
        just tuning stands on it. A degree moves the whole drone along the major scale of its home, its intervals kept,
        so that a fifth stays a fifth; a half-step and an octave move home and drone together. The lowest key held on a
        keyboard is the tonic, and home. What is moved or held is spelled in the simplest way: the tonic with the fewest
        signs in the whole drone, the other tones as plain intervals above it; along the scale as the scale is, unless
        that needs double signs.
Units   a4_hz in hertz.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from droner.cli.pitches import HIGHEST_MIDI, LOWEST_MIDI, tuning_on
from droner.cli.standing_face import Column, Face
from droner.cli.standing_wishes import Held, Wish
from droner.theory.interval import degrees
from droner.theory.pitch import LETTERS, NATURAL_SEMITONES, OCTAVE, UNISON, Interval, NoteName, Pitch
from droner.theory.temperament import TEMPERAMENTS
from droner.theory.tuning import HIGHEST_A4_HZ, LOWEST_A4_HZ

if TYPE_CHECKING:
    from droner.theory.tuning import Tuning

MAJOR = degrees("1 2 3 4 5 6 7")
PLAIN = degrees("1 b2 2 b3 3 4 #4 5 b6 6 b7 7")
"""The plain interval of 0 to 11 half-steps."""
FLAT = "\N{MUSIC FLAT SIGN}"
MOST_TONES = 6
DEGREES = {Wish.DEGREE_UP: 1, Wish.DEGREE_DOWN: -1}
HALF_STEPS = {Wish.HALF_STEP_UP: 1, Wish.HALF_STEP_DOWN: -1}
OCTAVES = {Wish.OCTAVE_UP: 1, Wish.OCTAVE_DOWN: -1}
HERTZ = {Wish.A4_UP: 1, Wish.A4_DOWN: -1}
NO_TONES = "no key is held yet"
NO_FURTHER = "the drone goes no further"
NO_A4 = f"A4 lies between {LOWEST_A4_HZ:g} and {HIGHEST_A4_HZ:g} Hz"
TOO_MANY = f"a drone holds at most {MOST_TONES} tones"
NOTHING_HELD = "hold keys on the keyboard"
OWN_TIMBRE = "the instrument at the MIDI port has a timbre of its own"


@dataclass(frozen=True, slots=True)
class Ground:
    """The home tonic, the degree of its scale that the drone stands on (0 is home), its intervals, its tuning.

    Without intervals there is no tone yet. `timbres` are those to go through, none where the instrument has its own.
    """

    home: Pitch
    degree: int
    intervals: tuple[Interval, ...]
    a4_hz: Fraction
    temperament: str
    timbre: str
    timbres: tuple[str, ...]

    @property
    def tonic(self) -> Pitch:
        """The first tone."""
        octaves, place = divmod(self.degree, len(MAJOR))
        scale = self.home + MAJOR[place] + OCTAVE * octaves
        is_plain = all(abs((scale + interval).name.alter) < 2 for interval in self.intervals)
        return scale if is_plain else simplest(scale.midi, self.intervals)

    @property
    def pitches(self) -> tuple[Pitch, ...]:
        """The tones, the tonic first."""
        return tuple(self.tonic + interval for interval in self.intervals)

    @property
    def tuned(self) -> Tuning:
        """How they are tuned."""
        return tuning_on(self.tonic, self.a4_hz, self.temperament)

    def after(self, wish: Wish | Held) -> Ground | str:
        """The drone after a wish, or in words why there is none such."""
        if isinstance(wish, Held):
            return self._held(wish.keys)
        if wish in HERTZ:
            return self._tuned_by(HERTZ[wish])
        if wish is Wish.TEMPERAMENT:
            return replace(self, temperament=_next(self.temperament, tuple(TEMPERAMENTS)))
        if wish is Wish.TIMBRE:
            return replace(self, timbre=_next(self.timbre, self.timbres)) if self.timbres else OWN_TIMBRE
        return self._moved(wish) if self.intervals else NO_TONES

    def _moved(self, wish: Wish) -> Ground | str:
        home = self.home
        if wish in HALF_STEPS:
            home = simplest(home.midi + HALF_STEPS[wish], self.intervals)
        moved = replace(self, home=home + OCTAVE * OCTAVES.get(wish, 0), degree=self.degree + DEGREES.get(wish, 0))
        is_playable = all(LOWEST_MIDI <= pitch.midi <= HIGHEST_MIDI for pitch in (*moved.pitches, moved.home))
        return moved if is_playable else NO_FURTHER

    def _tuned_by(self, hertz: int) -> Ground | str:
        a4_hz = self.a4_hz + hertz
        return replace(self, a4_hz=a4_hz) if LOWEST_A4_HZ <= a4_hz <= HIGHEST_A4_HZ else NO_A4

    def _held(self, keys: tuple[int, ...]) -> Ground | str:
        if len(keys) > MOST_TONES:
            return TOO_MANY
        if not all(LOWEST_MIDI <= key <= HIGHEST_MIDI for key in keys):
            return NO_FURTHER
        intervals = tuple(PLAIN[(key - keys[0]) % 12] + OCTAVE * ((key - keys[0]) // 12) for key in keys)
        if keys == tuple(pitch.midi for pitch in self.pitches):
            return self
        return replace(self, home=simplest(keys[0], intervals), degree=0, intervals=intervals)

    @property
    def line(self) -> str:
        """The whole of it in one line."""
        return "  ".join(filter(None, (self._names, self._tuning_words, self.timbre)))

    @property
    def face(self) -> Face:
        """What the screen shows."""
        signs = [f"{pitch}".replace("b", FLAT) for pitch in self.pitches]
        names = [f"{pitch.name}".replace("b", FLAT) for pitch in self.pitches]
        texts = (" ".join(signs), " ".join(names), signs[0]) if signs else ("-",)
        numbers = (Column("A4", (f"{float(self.a4_hz):g}",)), Column("degree", (str(self.degree % len(MAJOR) + 1),)))
        spoken = ", ".join(pitch.spoken for pitch in self.pitches) or NOTHING_HELD
        timbre = f"timbre: {self.timbre}" if self.timbre else "timbre: the instrument's own"
        small = (spoken, f"{self._tuning_words}; {timbre}; the scale is {self.home.name.spoken} major")
        return Face("drone", (Column("", texts),), numbers, small, self.line)

    @property
    def data(self) -> dict[str, Any]:
        """For programs."""
        return {
            "kind": "drone",
            "pitches": [str(pitch) for pitch in self.pitches],
            "hertz": [round(self.tuned.hz(pitch), 4) for pitch in self.pitches],
            "a4_hz": float(self.a4_hz),
            "temperament": self.temperament,
            "timbre": self.timbre or None,
        }

    @property
    def _names(self) -> str:
        return " ".join(map(str, self.pitches)) or NOTHING_HELD

    @property
    def _tuning_words(self) -> str:
        on = f" on {self.tonic.name}" if self.temperament == "just" and self.intervals else ""
        return f"{self.temperament} tuning{on}, A4 = {float(self.a4_hz):g} Hz"


def ground(
    pitches: tuple[Pitch, ...], a4_hz: Fraction, temperament: str, timbre: str, timbres: tuple[str, ...]
) -> Ground:
    """A drone as it begins; without pitches it waits for keys."""
    home = pitches[0] if pitches else NoteName(0).in_octave(4)
    return Ground(home, 0, tuple(each - home for each in pitches), a4_hz, temperament, timbre, timbres)


def simplest(midi: int, intervals: tuple[Interval, ...]) -> Pitch:
    """The spelling of a tonic that gives a drone of these intervals the fewest signs, then its key."""
    return min(_spellings(midi), key=lambda tonic: _signs(tonic, intervals or (UNISON,)))


def _spellings(midi: int) -> list[Pitch]:
    """The natural, sharp and flat names of a key."""
    found = []
    for alter in (0, 1, -1):
        octave, natural = divmod(midi - alter, 12)
        if natural in NATURAL_SEMITONES:
            step = NATURAL_SEMITONES.index(natural)
            found.append(Pitch((octave - 1) * len(LETTERS) + step, midi))
    return found


def _signs(tonic: Pitch, intervals: tuple[Interval, ...]) -> tuple[int, int]:
    """How many signs, and how many in the signature of the tonic's major key."""
    return sum(abs((tonic + interval).name.alter) for interval in intervals), abs(tonic.name.fifths)


def _next(name: str, names: tuple[str, ...]) -> str:
    return names[(names.index(name) + 1) % len(names)]
