"""Every mistake in a session or pattern file gets its file, line, key and a way out, all in one run.

Rule    the tables of bad files are written by hand, as players slip; the line and key beside each are counted by
        hand. Random texts, bytes and slips of the hand never bring anything but mistakes.
"""

from __future__ import annotations

import pytest
import tomli_w
from hypothesis import given
from hypothesis import strategies as st

from droner.errors import Mistake, MistakesFound
from droner.practice.reading.files import text_of
from droner.practice.reading.pattern_reading import read_patterns
from droner.practice.reading.pattern_table import SORTS
from droner.practice.reading.session_reading import read_session
from droner.practice.reading.session_table import session_keys
from tests.practice import bad_patterns, bad_sessions
from tests.practice.bad_sessions import GOOD
from tests.practice.small_library import DRILLS, FILES, ROWS, SESSION, VARIANTS, library

Case = tuple[str, int, str, str]
TOP = bad_sessions.ONE_KEY_AT_THE_TOP + bad_sessions.TOGETHER_AT_THE_TOP
ROTATION = bad_sessions.ONE_KEY_IN_THE_ROTATION + bad_sessions.TOGETHER_IN_THE_ROTATION
BLOCK = bad_sessions.ONE_KEY_IN_THE_BLOCK + bad_sessions.TOGETHER_IN_THE_BLOCK
DRILL = '[drill.x]\nabout = "x"\nstaple = "scales"\n'


def mistakes_in(text: str) -> tuple[Mistake, ...]:
    try:
        read_session(text, "s.toml", library())
    except MistakesFound as found:
        return found.mistakes
    return ()


def mistakes_in_patterns(*texts: str) -> tuple[Mistake, ...]:
    files = [(f"own{number}.toml", text) for number, text in enumerate(texts, 1)]
    try:
        read_patterns([*FILES, *files])
    except MistakesFound as found:
        return found.mistakes
    return ()


def assert_only(mistakes: tuple[Mistake, ...], file: str, case: Case) -> None:
    _, line, key, words = case
    seen = [(each.file, each.line, each.key) for each in mistakes]
    assert seen == [(file, line, key)], str(MistakesFound(mistakes))
    assert words in str(mistakes[0])
    assert mistakes[0].allowed or mistakes[0].nearest, "every mistake shows a way out"


@pytest.mark.parametrize("case", TOP, ids=lambda case: case[0])
def test_a_mistake_at_the_top_of_a_session(case: Case) -> None:
    assert_only(mistakes_in(case[0] + GOOD), "s.toml", case)


@pytest.mark.parametrize("case", ROTATION, ids=lambda case: case[0])
def test_a_mistake_in_the_rotation(case: Case) -> None:
    assert_only(mistakes_in(f"[rotation]\n{case[0]}\n{GOOD}"), "s.toml", case)


@pytest.mark.parametrize("case", BLOCK, ids=lambda case: case[0])
def test_a_mistake_in_a_block(case: Case) -> None:
    assert_only(mistakes_in(f"[[block]]\n{case[0]}\n"), "s.toml", case)


@pytest.mark.parametrize("case", bad_sessions.WHOLE_FILES, ids=lambda case: case[0])
def test_a_whole_file(case: Case) -> None:
    assert_only(mistakes_in(case[0]), "s.toml", case)


@pytest.mark.parametrize("case", bad_sessions.SYNTAX, ids=lambda case: case[0][:40])
def test_a_line_that_is_not_toml(case: Case) -> None:
    assert_only(mistakes_in(case[0] + GOOD), "s.toml", case)


@pytest.mark.parametrize("case", bad_patterns.FILES, ids=lambda case: case[0])
def test_a_mistake_in_a_pattern_file(case: Case) -> None:
    assert_only(mistakes_in_patterns(case[0]), "own1.toml", case)


@pytest.mark.parametrize("case", bad_patterns.REPLACING, ids=lambda case: case[0][:40])
def test_a_mistake_in_a_row_that_replaces_another_stands_where_the_player_made_it(case: Case) -> None:
    assert_only(mistakes_in_patterns(case[0]), "own1.toml", case)


@pytest.mark.parametrize(("sort", "case"), [(row[0], row[1:]) for row in bad_patterns.ROWS], ids=str)
def test_a_mistake_in_a_row(sort: str, case: Case) -> None:
    assert_only(mistakes_in_patterns(f'[{sort}.x]\nabout = "x"\n{case[0]}\n'), "own1.toml", case)


@pytest.mark.parametrize("case", bad_patterns.DRILLS, ids=lambda case: case[0])
def test_a_mistake_in_a_drill(case: Case) -> None:
    assert_only(mistakes_in_patterns(DRILL + case[0]), "own1.toml", case)


LIMITS = (  # this format's own limits: key, both ends, one step beyond each
    ("minutes", "5", "240", "4.9", "240.1"),
    ("air_seconds", "3", "30", "2.9", "30.1"),
    ("seed", "0", "4294967295", "-1", "4294967296"),
    ("tuning.a4", "380", "480", "379.9", "480.1"),
    ("rotation.keys_per_day", "1", "24", "0", "25"),
    ("sound.drone.level_db", "-40", "6", "-40.1", "6.1"),
    ("sound.click.pan", "-1", "1", "-1.01", "1.01"),
)
BLOCK_LIMITS = (
    ("tempo", "20", "300", "19.9", "300.1"),
    ("minutes", "0.5", "240", "0.4", "240.1"),
    ("variant", "1", "4", "0", "5"),
    ("speeds", "[10]", "[200]", "[9.9]", "[200.1]"),
    ("glide", "[10, 10]", "[200, 200]", "[9, 200]", "[10, 201]"),
    ("drone_octave", "1", "6", "0", "7"),
    ("count_in", "0", "4", "-1", "5"),
)


@pytest.mark.parametrize(("key", "low", "high", "below", "above"), LIMITS)
def test_both_limits_are_allowed_and_nothing_beyond(key: str, low: str, high: str, below: str, above: str) -> None:
    seen = [bool(mistakes_in(f"{key} = {value}\n{GOOD}")) for value in (low, high, below, above)]
    assert seen == [False, False, True, True]


@pytest.mark.parametrize(("key", "low", "high", "below", "above"), BLOCK_LIMITS)
def test_both_limits_of_a_block_are_allowed(key: str, low: str, high: str, below: str, above: str) -> None:
    seen = [bool(mistakes_in(f"{GOOD}\n{key} = {value}\n")) for value in (low, high, below, above)]
    assert seen == [False, False, True, True]


def test_nothing_is_offered_that_would_be_a_mistake_too() -> None:
    (mistake,) = mistakes_in(f'[rotation]\nkeys = ["H major"]\n{GOOD}')
    assert mistake.nearest == ""


MANY = """\
tittle = "Winter"
minutes = 4,5
instrument = flute
[tuning]
a4 = 900
temperament = "jsut"
[rotation]
keys = ["C major", "C major", "X major"]
done = true
[[block]]
drill = "slow tone"
tempo = 60 bpm
[[block]]
drill = "long scale"
ladder = { from = 90, to = 60 }
variant = 99
"""


def test_all_mistakes_of_a_session_come_in_one_run_in_the_order_of_the_file() -> None:
    assert [(each.line, each.key) for each in mistakes_in(MANY)] == [
        (1, "tittle"),
        (2, "minutes"),
        (3, "instrument"),
        (5, "tuning.a4"),
        (6, "tuning.temperament"),
        (8, "rotation.keys[3]"),
        (8, "rotation.keys[2]"),
        (9, "rotation.done"),
        (11, "block[1].drill"),
        (12, "block[1].tempo"),
        (15, "block[2].ladder"),
        (16, "block[2].variant"),
    ]


def test_all_mistakes_of_several_pattern_files_come_in_the_order_of_the_files() -> None:
    first = '[click.a]\nabout = 3\ndivide = 13\n[drone.b]\nabout = "x"\ndegrees = one\n'
    second = '[turn.c]\nabout = "x"\nstart = "6"\n[accent.d]\nat = "all"\n'
    assert [(each.file, each.line, each.key) for each in mistakes_in_patterns(first, second)] == [
        ("own1.toml", 2, "click.a.about"),
        ("own1.toml", 3, "click.a.divide"),
        ("own1.toml", 6, "drone.b.degrees"),
        ("own2.toml", 4, "accent.d"),
        ("own2.toml", 5, "accent.d.at"),
    ]


def test_a_broken_file_does_not_make_its_names_unknown() -> None:
    broken = '[rhythm."mine"]\nabout = "x"\nlengths = "1"\n[oops\n'
    user = '[variant_set.x]\nabout = "x"\nrhythms = ["mine", "even"]\n'
    assert [(each.file, each.line) for each in mistakes_in_patterns(broken, user)] == [("own1.toml", 4)]


def test_a_bad_row_does_not_make_its_name_unknown() -> None:
    row = '[rhythm.mine]\nabout = "x"\nlengths = "?"\n'
    user = '[variant_set.x]\nabout = "x"\nrhythms = ["mine", "even"]\n'
    assert [(each.file, each.key) for each in mistakes_in_patterns(row, user)] == [("own1.toml", "rhythm.mine.lengths")]


def test_an_unknown_instrument_has_no_say_over_the_range() -> None:
    text = f'instrument = "basoon"\nrange = ["Bb1", "Eb5"]\n{GOOD}'
    assert [(each.line, each.nearest) for each in mistakes_in(text)] == [(1, "bassoon")]
    far = f'instrument = "basoon"\nrange = ["C-1", "D9"]\n{GOOD}'
    assert [each.key for each in mistakes_in(far)] == ["instrument", "range[1]", "range[2]"]


def test_a_message_fits_a_terminal() -> None:
    text = f'title = "{"x" * 5000}"\nlevel = "\\u001b[31mred"\nmystery = 1' + GOOD
    shown = "\n".join(map(str, mistakes_in(text)))
    assert len(shown) < 1000
    assert all(sign.isprintable() or sign == "\n" for sign in shown)


HANDS = st.sampled_from(
    ["", '"', "'", "[", "]", "{", "}", "=", ",", ".", "#", "\n", "\\", " ", "-1", "0", "true", "\u201c"]
)


@st.composite
def slipped(draw: st.DrawFn, text: str) -> str:
    """A text in which a few places are typed over, left out or repeated."""
    for _ in range(draw(st.integers(1, 4))):
        start = draw(st.integers(0, len(text)))
        stop = min(len(text), start + draw(st.integers(0, 12)))
        text = text[:start] + draw(HANDS) + draw(st.sampled_from(["", text[start:stop]])) + text[stop:]
    return text


VALUES = st.recursive(
    st.one_of(st.text(max_size=5), st.integers(), st.floats(), st.booleans(), st.dates(), st.datetimes(), st.times()),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(["from", "to", "on", "x"]), inner),
    max_leaves=5,
)


def checked(mistakes: tuple[Mistake, ...], *texts: str) -> None:
    last = max(text.count("\n") + 1 for text in texts)
    for each in mistakes:
        assert 0 <= each.line <= last
        assert each.problem


@given(slipped(SESSION))
def test_a_slip_of_the_hand_in_a_session_is_only_ever_a_mistake(text: str) -> None:
    checked(mistakes_in(text), text)


@given(slipped(DRILLS), slipped(ROWS), slipped(VARIANTS))
def test_a_slip_of_the_hand_in_a_pattern_is_only_ever_a_mistake(drills: str, rows: str, variants: str) -> None:
    checked(mistakes_in_patterns(drills, rows, variants), drills, rows, variants)


@given(st.binary(max_size=200) | st.text(max_size=200).map(str.encode))
def test_random_bytes_are_only_ever_a_mistake(data: bytes) -> None:
    try:
        text = text_of(data, "s.toml")
    except MistakesFound as found:
        checked(found.mistakes, data.decode("latin-1"))
    else:
        assert mistakes_in(text), "no random text is a session with a block"


KEYS = [(section, each.key) for section, each in session_keys()]


@given(st.sampled_from(KEYS), VALUES)
def test_any_value_at_any_key_of_a_session_is_only_ever_a_mistake(place: tuple[str, str], value: object) -> None:
    section, key = place
    header = "" if not section else "[[block]]\n" if section == "block" else f"[{section}]\n"
    text = header + tomli_w.dumps({key: value})
    checked(mistakes_in(text), text)


FIELDS = [(sort, each.key) for sort, fields in SORTS.items() for each in fields]


@given(st.sampled_from(FIELDS), VALUES)
def test_any_value_at_any_key_of_a_row_is_only_ever_a_mistake(place: tuple[str, str], value: object) -> None:
    sort, key = place
    text = f"[{sort}.x]\n" + tomli_w.dumps({key: value})
    checked(mistakes_in_patterns(text), text)
