"""What the keys of a session file mean; the expected order is written by hand beside the text.

Referees: the key orders of `theory` are judged by their own tests; MIDI 60 is C4 (MIDI Tuning Standard).
"""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from droner.errors import MachineError, MistakesFound
from droner.practice.reading.files import LARGEST, file_text, load_patterns, load_session, own_patterns_folder
from droner.practice.reading.session_reading import read_session
from droner.practice.reading.session_table import session_keys
from droner.practice.session import Block, LadderOrder, PartOrder, RotationOrder, Session, SoundOrder, TuningOrder
from droner.theory.instrument import INSTRUMENTS, Range
from droner.theory.key import key
from droner.theory.key_order import key_order
from droner.theory.pitch import note_name, pitch
from tests.practice.small_library import SESSION, library

LEAST = '[[block]]\ndrill = "long scale"\n'
THREE_KEYS = (key("C major"), key("A minor"), key("Eb major"))


def read(text: str) -> Session:
    return read_session(text, "s.toml", library())


def with_rotation(text: str) -> RotationOrder:
    return read(f"[rotation]\n{text}\n{LEAST}").rotation


def block(text: str) -> Block:
    return with_block(text).blocks[0]


def with_block(text: str) -> Session:
    return read(f'[rotation]\nkeys = ["C major", "A minor"]\n{LEAST}{text}')


def test_a_full_session() -> None:
    session = read(SESSION)
    assert (session.file, session.title, session.level) == ("s.toml", "Winter", "intermediate")
    assert session.minutes == Fraction(45)
    assert session.instrument is INSTRUMENTS["flute"]
    assert session.compass == Range(pitch("C4"), pitch("A6"))
    assert session.tuning == TuningOrder(442.0, "just", note_name("D"))
    assert session.rotation == RotationOrder(THREE_KEYS, 2, "sixty", by_calendar=False, done=7)
    click = PartOrder(level_db=-6.0, pan=0.25)
    assert session.sound == SoundOrder(click=click, guide=PartOrder(on=True), timbre="bright")
    assert session.blocks == (
        Block(1, "slow tones", Fraction("56.5"), minutes=Fraction(10), drone="tonic", drone_octave=3),
        Block(
            2,
            "long scale",
            ladder=LadderOrder(Fraction(60), Fraction(126)),
            keys=THREE_KEYS,
            variant=3,
            speeds=(Fraction(80), Fraction(90), Fraction(100)),
            glide=(Fraction(80), Fraction(100)),
            changes="cadence",
            click="after",
            meter="4/4",
            count_in_bars=2,
            guide=False,
        ),
    )


def test_the_shortest_session_has_the_records_own_defaults() -> None:
    session = read(f"{LEAST}")
    assert (session.tuning, session.sound, session.blocks) == (TuningOrder(), SoundOrder(), (Block(1, "long scale"),))
    assert (session.air_seconds, session.seed, session.concert_keys) == (Fraction(12), 1, False)
    assert (session.title, session.minutes, session.level) == ("Practice", Fraction(25), "advanced")
    assert (str(session.compass.low), str(session.compass.high)) == ("C4", "D7")


def test_without_a_rotation_it_goes_by_the_calendar() -> None:
    session = read_session('[[block]]\ndrill = "turning scale"\n', "s.toml", load_patterns())
    keys = key_order("half-steps up, minor then major", note_name("C"))
    assert session.rotation == RotationOrder(keys, 6, "sixty", by_calendar=True, begins=date(2026, 1, 1))


def test_an_order_starts_on_the_lowest_note_of_the_compass() -> None:
    low_b = read(f'instrument = "flute, B foot"\n{LEAST}')
    assert low_b.rotation.keys[0] == key("B minor")
    own = read(f'range = ["E4", "E6"]\n{LEAST}')
    assert own.rotation.keys[:2] == (key("E minor"), key("E major"))


def test_an_order_may_start_elsewhere() -> None:
    assert with_rotation('start = "G"\nkeys = "circle of fifths, major"').keys[:2] == (key("G major"), key("D major"))


def test_a_short_list_of_keys_is_played_every_day() -> None:
    assert with_rotation('keys = ["D minor", "F major"]').keys_per_day == 2


def test_by_the_calendar_from_a_day() -> None:
    rotation = with_rotation('moves = "by the calendar"\nbegins = 2026-09-01')
    assert (rotation.by_calendar, rotation.begins, rotation.done) == (True, date(2026, 9, 1), 0)


def test_no_variants_at_all() -> None:
    assert read(f'[rotation]\nvariants = "None"\n{LEAST}').rotation.variants == "none"


@pytest.mark.parametrize(
    ("text", "keys", "one_key"),
    [
        ("", None, None),
        ('keys = "today"', None, False),
        ('keys = "one of today\'s"', None, True),
        ('keys = "all"', (key("C major"), key("A minor")), None),
        ('keys = "f# minor"', (key("F# minor"),), None),
        ('keys = ["D dorian", "B flat major"]', (key("D dorian"), key("Bb major")), None),
    ],
)
def test_the_keys_of_a_block(text: str, keys: object, one_key: object) -> None:
    assert (block(text).keys, block(text).one_key) == (keys, one_key)


@pytest.mark.parametrize(
    ("text", "number"), [("", None), ('variant = "today"', None), ('variant = "Plain"', 0), ("variant = 4", 4)]
)
def test_the_variant_of_a_block(text: str, number: int | None) -> None:
    assert block(text).variant == number


@pytest.mark.parametrize(("stands", "anchor"), [("where equal temperament puts it", "equal"), ("On the A", "a4")])
def test_where_the_tonic_stands(stands: str, anchor: str) -> None:
    text = f'[tuning]\ntonic_stands = "{stands}"\nminor_third = "19/16"\nsecond = "10/9"\nseventh = "7/4"\n'
    tuning = read(f"{text}{LEAST}").tuning
    assert (tuning.anchor, tuning.minor_third, tuning.second, tuning.seventh) == (anchor, "19/16", "10/9", "7/4")


def test_decimals_are_exact() -> None:
    assert block("tempo = 72.1").tempo_bpm == Fraction(721, 10)


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("FLUTE", "flute"),
        ("cor anglais", "English horn"),
        ("B-flat clarinet", "clarinet"),
        ("alto  sax", "alto saxophone"),
    ],
)
def test_an_instrument_by_any_of_its_names(written: str, name: str) -> None:
    session = read(f'instrument = "{written}"\n{LEAST}')
    assert session.instrument is INSTRUMENTS[name]


def test_names_in_any_case_and_with_any_spaces() -> None:
    session = with_block('drone = " TONIC "\nchanges = "Cadence"')
    assert (session.blocks[0].drone, session.blocks[0].changes) == ("tonic", "cadence")


def test_a_guide_may_have_a_level() -> None:
    session = read(f"[sound.guide]\nlevel_db = -12\non = true\n{LEAST}")
    assert session.sound.guide == PartOrder(level_db=-12.0, on=True)


def test_every_key_says_what_it_is_for() -> None:
    rows = list(session_keys())
    named = {(section, each.key) for section, each in rows}
    assert len(named) == len(rows)
    assert {
        ("", "title"),
        ("tuning", "a4"),
        ("sound.drone", "pan"),
        ("block", "drill"),
        ("block.ladder", "to"),
    } <= named
    assert all(each.about for _, each in rows)
    assert all(each.needed or each.default is not None or each.otherwise for _, each in rows)


def test_a_session_beside_its_own_patterns(tmp_path: Path) -> None:
    own = own_patterns_folder(tmp_path / "practice.toml")
    own.mkdir()
    (own / "mine.toml").write_text('[drill.mine]\nabout = "Mine."\nstaple = "tone"\nmaterial = "note"\n', "utf-8")
    (tmp_path / "practice.toml").write_text('[[block]]\ndrill = "mine"\n', "utf-8")
    assert load_session(tmp_path / "practice.toml").blocks[0].drill == "mine"


def test_a_byte_order_mark_is_passed_over(tmp_path: Path) -> None:
    (tmp_path / "s.toml").write_bytes(b"\xef\xbb\xbf" + LEAST.encode())
    assert file_text(tmp_path / "s.toml") == LEAST


FILES_THAT_ARE_NO_TEXT = (
    (b"title = 1\nlevel = \xe4\n", 2, "not saved as UTF-8"),
    ("title = 1".encode("utf-16"), 0, "UTF-16"),
    (b"\n\ntitle = \x00", 3, "zero byte"),
    (b"#" * (LARGEST + 1), 0, "too large"),
)


@pytest.mark.parametrize(("data", "line", "words"), FILES_THAT_ARE_NO_TEXT)
def test_a_file_that_is_no_text(tmp_path: Path, data: bytes, line: int, words: str) -> None:
    (tmp_path / "s.toml").write_bytes(data)
    with pytest.raises(MistakesFound) as caught:
        load_session(tmp_path / "s.toml")
    (mistake,) = caught.value.mistakes
    assert (mistake.file, mistake.line) == (str(tmp_path / "s.toml"), line)
    assert words in mistake.problem


def test_a_missing_file_names_the_nearest(tmp_path: Path) -> None:
    (tmp_path / "practice.toml").write_text(LEAST, "utf-8")
    with pytest.raises(MistakesFound, match="no such file") as caught:
        load_session(tmp_path / "practise.toml")
    assert caught.value.mistakes[0].nearest == str(tmp_path / "practice.toml")


def test_a_set_without_variants_is_a_mistake_where_it_is_asked_for(tmp_path: Path) -> None:
    own = own_patterns_folder(tmp_path / "practice.toml")
    own.mkdir()
    row = '["long short", "compound tonguing", "medium", "no accent", "every beat", "from the low tonic"]'
    (own / "mine.toml").write_text(f"variant = [{row}]\n", "utf-8")
    session = tmp_path / "practice.toml"
    session.write_text('[rotation]\nvariants = "thirty"\n[[block]]\ndrill = "thirds"\n', "utf-8")
    load_patterns(own)
    with pytest.raises(MistakesFound) as caught:
        load_session(session)
    (mistake,) = caught.value.mistakes
    assert (mistake.file, mistake.line, mistake.key) == (str(session), 2, "rotation.variants")
    assert mistake.allowed == "sixty; none"  # neither smaller set has compound tonguing


LOWEST_OF_ANY = (  # with a foot, a bell key, a thumb key or as a pedal note; common practice, no source
    ("flute", "Bb3"),
    ("piccolo", "C4"),
    ("alto recorder", "E4"),
    ("bassoon", "A1"),
    ("clarinet", "C3"),
    ("bass clarinet", "C3"),
    ("baritone saxophone", "A3"),
    ("horn", "C2"),
    ("tuba", "D1"),
)


@pytest.mark.parametrize(("name", "lowest"), LOWEST_OF_ANY)
def test_a_range_may_go_as_low_as_any_player_of_the_instrument(name: str, lowest: str) -> None:
    session = read(f'instrument = "{name}"\nrange = ["{lowest}", "G4"]\n{LEAST}')
    assert session.compass.low == pitch(lowest)


def test_a_range_holds_every_level_of_every_instrument() -> None:
    for one in INSTRUMENTS.values():
        for level in one.ranges.values():
            session = read(f'instrument = "{one.name}"\nrange = ["{level.low}", "{level.high}"]\n{LEAST}')
            assert session.compass == level


@pytest.mark.parametrize("name", ["nowhere/s.toml", "s\x00.toml"])
def test_a_place_that_cannot_be(tmp_path: Path, name: str) -> None:
    with pytest.raises(MistakesFound, match="no such file"):
        load_session(tmp_path / name)


def test_a_folder_is_no_session(tmp_path: Path) -> None:
    with pytest.raises(MistakesFound, match="this is a folder"):
        load_session(tmp_path)


def test_a_file_that_the_machine_will_not_give(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "s.toml").write_text(LEAST, "utf-8")

    def refused(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refused)
    with pytest.raises(MachineError, match="Permission denied"):
        file_text(tmp_path / "s.toml")


def test_a_folder_that_the_machine_will_not_give(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "iterdir", refused)
    with pytest.raises(MachineError, match="Permission denied"):
        load_patterns(tmp_path)


def test_mistakes_of_several_unreadable_files_come_together(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_bytes(b"\xff\xfea")
    (tmp_path / "b.toml").write_bytes(b"\x00")
    with pytest.raises(MistakesFound) as caught:
        load_patterns(tmp_path)
    assert [Path(mistake.file).name for mistake in caught.value.mistakes] == ["a.toml", "b.toml"]
