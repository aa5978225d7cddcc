"""Referee: SMF 1.0 and MIDI 1.0, by a reader written to their text: no note hangs, none is bent while it sounds."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import log2

from hypothesis import given, settings
from hypothesis import strategies as st

from droner.midi.smf_file import smf_bytes
from droner.midi.ticks import PPQ
from droner.score.score import ChordEvent, Click, ClickKind, Score, SoloNote, Tone
from tests.midi.scores import chord, click, note, score, tone
from tests.midi.smf_text import Heard, heard, read

INAUDIBLE_CENTS = 0.02
"""Two tones so close at 440 Hz beat once in three minutes."""
HALF_TICK = Fraction(1, 2)
TEMPO, END_OF_TRACK = 0x51, 0x2F
SOLO, DRONE, CHANGES, CLICK = 1, 2, 3, 4
MOST_DRONE_TONES, MOST_VOICES, MOST_NOTES, LENGTH = 6, 4, 8, 64

spans = st.fractions(Fraction(1, 24), 4, max_denominator=24)
hertz = st.floats(60.0, 2400.0)
places = st.fractions(0, 1, max_denominator=8)
velocities = st.integers(1, 127)
shapes = st.lists(st.tuples(places, velocities), max_size=3, unique_by=lambda point: point[0]).map(
    lambda points: tuple(sorted(points))
)


@st.composite
def solos(draw: st.DrawFn) -> list[SoloNote]:
    """Notes one after another, some slurred, some short, some after a rest."""
    onset, made = Fraction(0), []
    for length in draw(st.lists(spans, max_size=MOST_NOTES)):
        sounded = length * draw(st.sampled_from([Fraction(1), Fraction(1, 2), Fraction(5, 7)]))
        shape, pulses = draw(shapes), draw(st.integers(0, 7))
        hz, velocity, accent = draw(hertz), draw(velocities), draw(st.booleans())
        made.append(
            note(onset, length, hz=hz, sounded=sounded, velocity=velocity, accent=accent, shape=shape, pulses=pulses)
        )
        onset += length + draw(st.sampled_from([Fraction(0), Fraction(1, 3)]))
    return made


@st.composite
def drones(draw: st.DrawFn) -> list[Tone]:
    """Up to six tones at once, moving together."""
    onset, made = Fraction(0), []
    for length in draw(st.lists(spans, max_size=MOST_NOTES)):
        tones = draw(st.lists(hertz, min_size=1, max_size=MOST_DRONE_TONES, unique=True))
        made += [tone(onset, length, "A4", hz) for hz in tones]
        onset += length
    return made


@st.composite
def chords(draw: st.DrawFn) -> list[ChordEvent]:
    """Up to four voices, one chord after another."""
    onset, made = Fraction(0), []
    for length in draw(st.lists(spans, max_size=MOST_NOTES)):
        voices = draw(st.lists(hertz, min_size=1, max_size=MOST_VOICES, unique=True))
        names = ("C4", "E4", "G4", "B4")
        made.append(chord(onset, length, dict(zip(names, voices, strict=False))))
        onset += length
    return made


@st.composite
def scores(draw: st.DrawFn) -> Score:
    onsets = draw(st.lists(st.fractions(0, LENGTH - 1, max_denominator=24), max_size=12, unique=True))
    changes = draw(st.lists(st.fractions(0, LENGTH, max_denominator=4), max_size=4, unique=True))
    quarters = st.integers(200_000, 0xFFFFFF)
    return score(
        LENGTH,
        tempos=[(onset, draw(quarters)) for onset in sorted({Fraction(0), *changes})],
        solo=draw(solos()),
        drone=draw(drones()),
        changes=draw(chords()),
        clicks=[click(onset, draw(st.sampled_from(ClickKind)), draw(st.floats(0.01, 1.0))) for onset in sorted(onsets)],
    )


def of_track(notes: list[Heard], track: int) -> list[Heard]:
    return sorted((one for one in notes if one.track == track), key=lambda one: (one.onset, one.hz))


def assert_sounds(found: list[Heard], expected: Iterable[tuple[Fraction, Fraction, float]]) -> None:
    """Each note begins, ends and sounds where it is written: within half a tick and an inaudible beat."""
    asked = sorted(expected, key=lambda span: (round(span[0] * PPQ), span[2]))
    assert len(found) == len(asked)
    for one, (onset, end, hz) in zip(found, asked, strict=True):
        assert abs(one.onset - onset * PPQ) <= HALF_TICK
        assert abs(one.end - end * PPQ) <= HALF_TICK
        assert abs(1200 * log2(one.hz / hz)) < INAUDIBLE_CENTS


def tone_spans(tones: Iterable[Tone]) -> list[tuple[Fraction, Fraction, float]]:
    return [(t.onset.exact, (t.onset + t.length).exact, t.hz) for t in tones]


def click_onsets(clicks: Iterable[Click]) -> list[int]:
    return [round(one.onset.exact * PPQ) for one in clicks]


@settings(max_examples=80, deadline=None)
@given(scores())
def test_every_note_of_any_score_is_in_the_file_in_time_and_in_tune(made: Score) -> None:
    file = read(smf_bytes(made))
    notes = heard(file)
    assert_sounds(of_track(notes, SOLO), [(n.onset.exact, (n.onset + n.sounded).exact, n.hz) for n in made.solo])
    assert_sounds(of_track(notes, DRONE), tone_spans(made.drone))
    assert_sounds(of_track(notes, CHANGES), tone_spans(t for event in made.changes for t in event.tones))
    assert [one.onset for one in of_track(notes, CLICK)] == click_onsets(made.clicks)


@settings(max_examples=40, deadline=None)
@given(scores())
def test_tempos_and_ends_of_any_score_are_in_the_file(made: Score) -> None:
    file = read(smf_bytes(made))
    tempos = [(Fraction(tick, PPQ), int.from_bytes(data, "big")) for tick, data in file.metas(TEMPO)]
    assert tempos == [(segment.onset.exact, segment.quarter_us) for segment in made.tempo_map.segments]
    assert {(track[-1].meta, track[-1].tick) for track in file.tracks} == {(END_OF_TRACK, LENGTH * PPQ)}
