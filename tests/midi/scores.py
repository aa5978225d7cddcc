"""Invented scores for the tests of the MIDI file: no music of anybody's, only what a reading needs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from droner.score.score import Attack, Bar, ChordEvent, Click, ClickKind, KeyMark, Score, SoloNote, Tone
from droner.score.tempo_map import tempo_map
from droner.theory.key import key
from droner.theory.meter import meter
from droner.theory.pitch import pitch
from droner.units import Beats

Tempos = Sequence[tuple[Fraction, int]]
CROTCHET_60: Tempos = ((Fraction(0), 1_000_000),)


def equal_hz(name: str, a4_hz: float = 440.0) -> float:
    """A pitch in equal temperament: 2^(1/12) a semitone (the definition)."""
    return float(a4_hz * 2 ** ((pitch(name).midi - 69) / 12))


def tone(onset: Fraction | int, length: Fraction | int, name: str, hz: float | None = None) -> Tone:
    return Tone(Beats(onset), Beats(length), pitch(name), equal_hz(name) if hz is None else hz)


def chord(onset: Fraction | int, length: Fraction | int, hertz: dict[str, float]) -> ChordEvent:
    tones = tuple(tone(onset, length, name, hz) for name, hz in hertz.items())
    return ChordEvent(Beats(onset), Beats(length), "", "", tones)


def click(onset: Fraction | int, kind: ClickKind = ClickKind.BEAT, gain: float = 1.0) -> Click:
    return Click(Beats(onset), kind, gain)


def note(
    onset: Fraction | int,
    length: Fraction | int,
    name: str = "D5",
    *,
    hz: float | None = None,
    sounded: Fraction | int | None = None,
    velocity: int = 80,
    attack: Attack = Attack.TONGUE,
    accent: bool = False,
    shape: tuple[tuple[Fraction, int], ...] = (),
    pulses: int = 0,
) -> SoloNote:
    return SoloNote(
        onset=Beats(onset),
        length=Beats(length),
        sounded=Beats(length if sounded is None else sounded),
        written=pitch(name),
        pitch=pitch(name),
        hz=equal_hz(name) if hz is None else hz,
        velocity=velocity,
        attack=attack,
        accent=accent,
        shape=shape,
        pulses=pulses,
    )


def bars(*written: str) -> tuple[Bar, ...]:
    """Bars one after another, numbered from 1: "4/4", "6/8", ..."""
    made, onset = [], Beats(0)
    for number, text in enumerate(written, start=1):
        made.append(Bar(number, onset, meter(text)))
        onset = onset + meter(text).bar
    return tuple(made)


def key_mark(onset: Fraction | int, sounding: str) -> KeyMark:
    return KeyMark(Beats(onset), key(sounding), key(sounding))


def score(
    length: Fraction | int,
    *,
    title: str = "invented",
    tempos: Tempos = CROTCHET_60,
    solo: Iterable[SoloNote] = (),
    drone: Iterable[Tone] = (),
    changes: Iterable[ChordEvent] = (),
    clicks: Iterable[Click] = (),
    **marks: tuple[object, ...],
) -> Score:
    """A score of parts, and of `bars`, `keys`, `markers`, `cues`, `breaths` where they matter."""
    named = {kind: marks.get(kind, ()) for kind in ("bars", "keys", "markers", "cues", "breaths")}
    return Score(
        title=title,
        a4_hz=440.0,
        length=Beats(length),
        tempo_map=tempo_map((Beats(onset), quarter_us) for onset, quarter_us in tempos),
        solo=tuple(solo),
        drone=tuple(drone),
        changes=tuple(changes),
        clicks=tuple(clicks),
        **named,  # type: ignore[arg-type]  # the names above are those of the score
    )
