"""Whatever the order, a score keeps its promises: everything inside it, in order, bar after bar, to the second.

Referee  what score.py promises in its first lines; the session that the player typed. Sessions here are drawn by
         hypothesis from every drill, drone, chord and click there is.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from droner.practice.item import Item
from droner.practice.items import Items
from droner.practice.layout.line import DoesNotFit
from droner.practice.reading.session_reading import read_session
from droner.score.compose import compose
from droner.score.score import ClickKind, Score
from droner.theory.key import key
from droner.units import Beats, Seconds
from tests.score.composed import MAJOR_KEYS, MINOR_KEYS, Composed, composed, manner, patterns, rows

INSTRUMENTS = ("flute", "piccolo", "clarinet", "alto saxophone", "horn", "bassoon", "tuba", "baritone saxophone")
EXAMPLES = 60


def names(sort: str) -> st.SearchStrategy[str]:
    return st.sampled_from(sorted(getattr(patterns(), sort)))


@st.composite
def items(draw: st.DrawFn) -> Composed:
    drill = draw(names("drills"))
    one = patterns().drills[drill]
    changes = draw(names("changes").filter(lambda name: bool(one.study) or patterns().changes[name].kind != "written"))
    drone = draw(names("drones"))
    block = [
        f'drill = "{drill}"',
        f"tempo = {draw(st.integers(40, 200))}",
        f'drone = "{drone}"',
        *([] if patterns().drones[drone].returns else [f'changes = "{changes}"']),  # they would give the returns away
        f'click = "{draw(names("clicks"))}"',
        f"speeds = {draw(st.lists(st.integers(50, 120), min_size=1, max_size=3))}",
        f"count_in = {draw(st.integers(0, 2))}",
    ]
    if draw(st.booleans()):
        block.append(f"glide = {[draw(st.integers(60, 120)), draw(st.integers(60, 120))]}")
    if draw(st.booleans()):
        block.append(f'meter = "{draw(st.sampled_from(["3/4", "4/4", "5/4", "6/8", "9/8", "7/8"]))}"')
    top = f"""instrument = "{draw(st.sampled_from(INSTRUMENTS))}"
    level = "{draw(st.sampled_from(["beginner", "intermediate", "advanced"]))}"
    seed = {draw(st.integers(0, 9))}
    [tuning]
    a4 = {draw(st.integers(415, 446))}
    temperament = "{draw(st.sampled_from(["just", "equal", "meantone", "vallotti"]))}" """
    session = read_session(f"{top}\n[[block]]\n" + "\n".join(block), "drawn.toml", patterns())
    asked = key(draw(st.sampled_from(MAJOR_KEYS + MINOR_KEYS))) if one.keyed else None
    item = Items(session, patterns()).item(session.blocks[0], asked, draw(st.sampled_from(rows())))
    if isinstance(item, DoesNotFit):
        return composed('drill = "octave scale"')
    return Composed(item, session, compose(item, session))


def spans(score: Score) -> list[tuple[Beats, Beats]]:
    held = [(one.onset, one.length) for part in (score.solo, score.drone, score.changes, score.breaths) for one in part]
    return [*held, *((tone.onset, tone.length) for chord in score.changes for tone in chord.tones)]


@given(items())
@settings(max_examples=EXAMPLES, deadline=None)
def test_everything_lies_inside_the_score_and_in_order(made: Composed) -> None:
    score = made.score
    for onset, length in spans(score):
        assert Beats(0) <= onset < onset + length <= score.length
    for note in score.solo:
        assert Beats(0) < note.sounded <= note.length
    for part in (score.solo, score.drone, score.changes, score.clicks, score.breaths, score.bars, score.cues):
        onsets = [event.onset for event in part]
        assert onsets == sorted(onsets)
        assert all(Beats(0) <= onset < score.length for onset in onsets)


@given(items())
@settings(max_examples=EXAMPLES, deadline=None)
def test_bars_follow_one_another_and_are_numbered_through_the_repeats(made: Composed) -> None:
    bars, score = made.score.bars, made.score
    ends = [bar.onset + bar.meter.bar for bar in bars]
    assert [bar.onset for bar in bars] == [Beats(0), *ends[:-1]]
    assert ends[-1] == score.length
    played = [bar.number for bar in bars if bar.number]
    assert played == list(range(1, len(played) + 1))
    counts = [click.onset for click in made.score.clicks if click.kind is ClickKind.COUNT]
    counted = sum(bar.number == 0 and bar.onset in counts for bar in bars)
    assert counted == made.session.blocks[0].count_in_bars * len(made.session.blocks[0].speeds)


@given(items(), st.integers(0, 5))
@settings(max_examples=EXAMPLES, deadline=None)
def test_the_drone_is_alone_for_as_long_as_asked_and_less_than_a_beat_more(made: Composed, asked: int) -> None:
    session = replace(made.session, lead_in_seconds=Fraction(asked))
    item = Items(session, patterns()).item(session.blocks[0], made.item.key, made.item.variant)
    assert isinstance(item, Item)
    score = compose(item, session)
    first = min(event.onset for part in (score.solo, score.clicks) for event in part)
    if not score.drone:
        assert first == Beats(0)
        return
    assert score.drone[0].onset == Beats(0)
    alone, beat = score.tempo_map.seconds_at(first), score.tempo_map.seconds_at(item.meter.beat)
    assert Seconds(asked) <= alone < Seconds(asked) + beat


@given(items())
@settings(max_examples=EXAMPLES, deadline=None)
def test_the_player_is_silent_in_every_breath_and_breathes_out_of_every_phrase(made: Composed) -> None:
    sounding = [(note.onset, note.onset + note.sounded) for note in made.score.solo]
    for breath in made.score.breaths:
        assert breath.length > Beats(0)
        assert all(end <= breath.onset or onset >= breath.onset + breath.length for onset, end in sounding)
    assert made.score.breaths[-1].onset + made.score.breaths[-1].length == made.score.length


@given(items())
@settings(max_examples=EXAMPLES, deadline=None)
def test_the_plans_minutes_are_the_scores_seconds_to_the_last_microsecond(made: Composed) -> None:
    by_segment = Fraction(0)
    segments = made.score.tempo_map.segments
    for place, segment in enumerate(segments):
        end = segments[place + 1].onset if place + 1 < len(segments) else made.score.length
        by_segment += (end - segment.onset).exact * Fraction(segment.quarter_us, 1_000_000)
    assert made.score.duration == made.item.seconds == Seconds(by_segment)


@given(items())
@settings(max_examples=EXAMPLES, deadline=None)
def test_one_click_a_moment_and_the_count_only_in_the_count_in(made: Composed) -> None:
    onsets = [click.onset for click in made.score.clicks]
    assert len(set(onsets)) == len(onsets)
    first_bars = [bar.onset for bar in made.score.bars if bar.number == 0]
    for click in made.score.clicks:
        bar = max(bar.onset for bar in made.score.bars if bar.onset <= click.onset)
        assert (click.kind is ClickKind.COUNT) == (bar in first_bars)
        assert 0 < click.gain <= 1


@given(items())
@settings(max_examples=EXAMPLES, deadline=None)
def test_no_two_notes_of_the_player_sound_together(made: Composed) -> None:
    for before, after in zip(made.score.solo, made.score.solo[1:], strict=False):
        assert before.onset + before.length <= after.onset


@given(items())
@settings(max_examples=EXAMPLES, deadline=None)
def test_the_spoken_cue_has_no_figure_and_no_sign(made: Composed) -> None:
    for cue in made.score.cues:
        assert not set(cue.spoken) & set("0123456789#♯♭°+%&")
        assert cue.spoken.startswith(("next: ", "the drone came back: "))


def test_a_composed_score_carries_the_sessions_a4_and_a_marker_for_each_time_through() -> None:
    made = composed('drill = "octave scale"\nspeeds = [80, 100]', top="[tuning]\na4 = 443")
    assert made.score.a4_hz == 443
    assert [marker.text for marker in made.score.markers] == [
        "octave scale in C major, 80 %",
        "octave scale in C major, 100 %",
    ]
    assert len(made.score.cues) == 2


@pytest.mark.parametrize(
    ("instrument", "reads", "sounds", "sounding_key"),
    [
        # transpositions: music21 instrument table, orchestralibrary.com range tables
        ("flute", "C4", "C4", "C major"),
        ("clarinet", "C4", "Bb3", "Bb major"),
        ("alto saxophone", "C4", "Eb3", "Eb major"),
        ("horn", "C3", "F2", "F major"),
        ("piccolo", "C5", "C6", "C major"),
    ],
)
def test_the_player_reads_one_thing_and_the_ear_hears_another(
    instrument: str, reads: str, sounds: str, sounding_key: str
) -> None:
    made = composed('drill = "octave scale"', played=manner(), top=f'instrument = "{instrument}"')
    first, mark = made.score.solo[0], made.score.keys[0]
    assert (str(first.written), str(first.pitch)) == (reads, sounds)
    assert (str(mark.written), str(mark.sounding)) == ("C major", sounding_key)
    assert "C major" in made.score.cues[0].shown
    assert "C major" in made.score.cues[0].spoken


def test_keys_named_as_they_sound_are_written_for_the_player() -> None:
    made = composed('drill = "octave scale"', top='instrument = "clarinet"\nconcert_keys = true')
    assert (str(made.score.keys[0].written), str(made.score.keys[0].sounding)) == ("D major", "C major")
    assert "D major" in made.score.cues[0].spoken


def test_a_key_that_would_sound_in_eight_flats_sounds_as_its_twin_with_four_sharps() -> None:
    """Eb minor a tone lower is Db minor, which nobody writes: C# minor (key signatures: common practice, no source)."""
    made = composed('drill = "octave scale"\nchanges = "plain cadence"', key="Eb minor", top='instrument = "clarinet"')
    assert str(made.score.keys[0].sounding) == "C# minor"
    assert [str(note.pitch.name) for note in made.score.solo[:5]] == ["C#", "D#", "E", "F#", "G#"]
    assert made.score.changes[0].symbol == "C#m"
    assert {str(tone.pitch.name) for tone in made.score.drone} == {"C#"}
