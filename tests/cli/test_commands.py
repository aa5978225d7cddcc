"""Every command does its job, and its data mean what they say.

Referees  the JSON parser of the standard library (RFC 8259); libsndfile and mido reading what was written; the
          calendar; equal temperament by arithmetic (ISO 16: A4 = 440 Hz).
"""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from math import log2
from pathlib import Path

import mido
import numpy as np
import pytest
import soundfile

from tests.cli.programs import droner_in, files_in

DAY = "2026-11-25"
ONE_FRAME = 1 / 48_000
"""Seconds: a track ends on a frame."""
HEARD_ALIKE_HZ = 0.5
"""Half a hertz, two cents at A4: what the peak of a two-second spectrum can tell."""
WHOLE_BARS_SECONDS = 14e-6
"""A MIDI file rounds each of the fourteen beats to a microsecond."""
BEATS_ALIKE = 1e-6
"""Beats a second; both sides are double precision."""


def test_new_writes_a_session_that_reads_without_a_mistake(tmp_path: Path) -> None:
    made = droner_in(tmp_path, "new")
    assert (made.code, made.out) == (0, "practice.toml\n")
    session = tomllib.loads((tmp_path / "practice.toml").read_text(encoding="utf-8"))
    assert session["instrument"] == "flute"
    assert len(session["block"]) >= 1
    assert droner_in(tmp_path, "check").out == "practice.toml: no mistakes\n"


def test_new_leaves_a_file_alone_unless_forced(tmp_path: Path) -> None:
    (tmp_path / "mine.toml").write_text("mine", encoding="utf-8")
    assert droner_in(tmp_path, "new", "mine.toml").code == 2
    assert (tmp_path / "mine.toml").read_text(encoding="utf-8") == "mine"
    assert droner_in(tmp_path, "new", "mine.toml", "--force", "--json").data == [{"path": "mine.toml"}]
    assert "block" in tomllib.loads((tmp_path / "mine.toml").read_text(encoding="utf-8"))
    assert files_in(tmp_path) == {"mine.toml"}


def test_today_keeps_within_the_minutes_and_adds_up(tmp_path: Path) -> None:
    plan = droner_in(tmp_path, "today", "--date", DAY, "--minutes", "12.5", "--json").data
    items = plan["items"]
    assert plan["date"] == DAY
    assert plan["minutes"] == 12.5
    assert [item["number"] for item in items] == list(range(1, len(items) + 1))
    assert sum(item["seconds"] for item in items) == pytest.approx(plan["seconds"])
    assert 0 < plan["seconds"] <= 12.5 * 60
    assert all(item["why"] and item["tempo_bpm"] > 0 for item in items)


def test_today_says_the_weekday_that_the_calendar_says(tmp_path: Path) -> None:
    page = droner_in(tmp_path, "today", "--date", DAY)
    assert "Wednesday 25 November 2026" in page.lines[0]
    assert "built-in session" in page.err


def test_today_reads_practice_toml_here(room: Path) -> None:
    plan = droner_in(room, "today", "--json")
    assert plan.err == ""
    assert (plan.data["session"], plan.data["title"]) == ("practice.toml", "Two thirds")
    assert [item["drill"] for item in plan.data["items"]] == ["thirds", "thirds"]


ROUND_OF_CHORDS = """[tuning]
chords = "free"
[[block]]
drill = "turning scale"
keys = "C major"
variant = "plain"
tempo = 60
speeds = [80, 100]
changes = "round by two"
"""


def test_the_ledger_has_the_chords_of_an_item_in_cents(tmp_path: Path) -> None:
    """The tonic stands at 0 cents; E above it is 5/4, F 4/3, G 3/2, A 5/3."""
    (tmp_path / "practice.toml").write_text(ROUND_OF_CHORDS, encoding="utf-8")
    told = droner_in(tmp_path, "today", "--ledger", "1", "--json").data
    assert {row["chord"]: row["numeral"] for row in told[:3]} == {"C": "I", "Am": "vi", "Dm": "ii"}
    cents = {tone["pitch"][0]: tone["equal_cents"] for row in told[:3] for tone in row["tones"]}
    for name, ratio, steps in (("E", 5 / 4, 4), ("F", 4 / 3, 5), ("G", 3 / 2, 7), ("A", 5 / 3, 9)):
        assert cents[name] == pytest.approx(1200 * log2(ratio) - 100 * steps, abs=1e-6)
    # A is held from Am into Dm, a comma under the fifth of a D that is in tune with the drone on G; home follows D
    drifts = [row["drift_cents"] for row in told if row["chord"] == "C"]
    assert drifts[:2] == pytest.approx([0, -1200 * log2(81 / 80)], abs=1e-6)


def test_a_policy_for_chords_does_nothing_in_another_temperament(tmp_path: Path) -> None:
    (tmp_path / "practice.toml").write_text(ROUND_OF_CHORDS, encoding="utf-8")
    told = droner_in(tmp_path, "today", "--ledger", "1", "--temperament", "equal", "--json").data
    tones = [tone for row in told for tone in row["tones"]]
    assert tones
    assert [tone["equal_cents"] for tone in tones] == pytest.approx([0] * len(tones), abs=1e-6)
    assert {tone["moved_cents"] for tone in tones} == {0.0}


def test_the_page_of_the_ledger_keeps_its_columns(tmp_path: Path) -> None:
    """It agrees with its data, and every tone stands under the one above it."""
    (tmp_path / "practice.toml").write_text(ROUND_OF_CHORDS, encoding="utf-8")
    page = droner_in(tmp_path, "today", "--ledger", "1").lines
    told = droner_in(tmp_path, "today", "--ledger", "1", "--json").data
    assert max(map(len, page)) <= 80
    rows = [line for line in page if re.match(r" *\d+  \S+ +\S+ +[-+0-9.]+  [A-G]", line)]
    assert [line.split()[:3] for line in rows] == [[str(row["bar"]), row["numeral"], row["chord"]] for row in told]
    assert len({tuple(found.start() for found in re.finditer(r"[A-G][b#]?\d ", line)) for line in rows}) == 1
    shown = [float(text) for line in rows for text in re.findall(r"[A-G][b#]?\d +(\S+)", line)]
    assert shown == pytest.approx([tone["equal_cents"] for row in told for tone in row["tones"]], abs=0.05001)


def test_options_lie_over_the_session(room: Path) -> None:
    options = ("--a4", "442.5", "--temperament", "Werckmeister-3", "--place", "3", "--seed", "7", "--minutes", "20")
    plan = droner_in(room, "today", *options, "--json").data
    assert (plan["a4_hz"], plan["temperament"], plan["minutes"]) == (442.5, "werckmeister 3", 20)
    assert (plan["seed"], plan["rotation"]["place"]) == (7, 3)
    assert [item["place"] for item in plan["items"]] == [3, 4]


def test_render_makes_the_files_it_names_and_no_other(room: Path) -> None:
    made = droner_in(room, "render", "--as", "wav,mid", "--long", "--out", "a/b", "--json").data
    assert {str(Path(track["path"]).relative_to("a/b")) for track in made} == files_in(room / "a" / "b")
    assert Counter(track["form"] for track in made) == {"wav": 3, "mid": 3}
    assert sorted({track["number"] for track in made}) == [0, 1, 2]
    for track in made:
        if track["form"] == "wav":
            assert soundfile.info(room / track["path"]).duration == pytest.approx(track["seconds"], abs=ONE_FRAME)
        else:
            assert len(mido.MidiFile(room / track["path"]).tracks) == 5


def test_render_of_some_items_gives_those(room: Path) -> None:
    made = droner_in(room, "render", "--only", "2", "--as", "mid", "--out", "day")
    assert made.lines == [f"day/{name}" for name in sorted(files_in(room / "day"))]
    assert [Path(line).name[:2] for line in made.lines] == ["02"]


def test_render_names_its_folder_after_the_day(room: Path) -> None:
    assert droner_in(room, "render", "--as", "mid", "--date", DAY).code == 0
    assert (room / f"practice {DAY}").is_dir()


def test_split_puts_the_click_on_the_left_and_the_rest_on_the_right(room: Path) -> None:
    droner_in(room, "render", "--as", "wav", "--only", "1", "--split", "--out", "day")
    (track,) = (room / "day").iterdir()
    sound, _ = soundfile.read(track)
    left, right = np.abs(sound).mean(axis=0)
    assert sound.shape[1] == 2
    assert 0 < left < right  # a click is mostly silence, a drone is not


@pytest.mark.parametrize(("drone", "partial", "a4"), [("D3", 5, 440), ("D4", 5, 440), ("D5", 5, 442)])
def test_beats_of_an_equal_third_come_by_arithmetic(tmp_path: Path, drone: str, partial: int, a4: int) -> None:
    (row,) = droner_in(tmp_path, "beats", drone, "F#5", "--a4", str(a4), "--json").data
    octave = int(drone[1])
    drone_hz = a4 * 2 ** ((12 * (octave + 1) + 2 - 69) / 12)
    note_hz = a4 * 2 ** ((12 * (5 + 1) + 6 - 69) / 12)
    player = 2 ** (octave - 3)  # the third an octave nearer: the drone's 5th against one partial lower
    assert (row["drone_partial"], row["player_partial"]) == (partial, player)
    assert row["beats_if_equal"] == pytest.approx(player * note_hz - partial * drone_hz, abs=BEATS_ALIKE)
    assert row["ratio"] == {3: "5", 4: "5/2", 5: "5/4"}[octave]


def test_beats_without_notes_show_every_degree_twice(tmp_path: Path) -> None:
    shown = droner_in(tmp_path, "beats", "Bb2")
    rows = [line for line in shown.lines if re.match("[A-G][#b]*[0-9] ", line)]
    assert len(rows) == 2 * 13
    assert "as tuned" in droner_in(tmp_path, "beats", "Bb2", "--temperament", "equal").out


def test_drone_sounds_at_the_a4_asked_for(tmp_path: Path) -> None:
    options = ("--a4", "442", "--seconds", "2", "--timbre", "pure", "--out", "a.wav")
    made = droner_in(tmp_path, "drone", "A4", *options)
    sound, rate_hz = soundfile.read(tmp_path / "a.wav")
    spectrum = np.abs(np.fft.rfft(sound * np.hanning(len(sound))))
    assert (made.code, made.out, made.err) == (0, "a.wav\n", "")
    assert np.argmax(spectrum) * rate_hz / len(sound) == pytest.approx(442, abs=HEARD_ALIKE_HZ)
    assert len(sound) == 2 * rate_hz


@pytest.mark.parametrize("form", ["wav", "flac", "ogg", "opus", "mp3", "mid"])
def test_drone_takes_its_form_from_the_name(tmp_path: Path, form: str) -> None:
    (told,) = droner_in(tmp_path, "drone", "D3", "A3", "--seconds", "3", "--out", f"d.{form}", "--json").data
    assert (told["path"], told["form"], told["seconds"]) == (f"d.{form}", form, 3)
    if form == "mid":
        assert mido.MidiFile(tmp_path / "d.mid").length == pytest.approx(3)
    else:
        assert soundfile.info(tmp_path / f"d.{form}").format == {"opus": "OGG"}.get(form, form.upper())


def test_drone_without_a_name_is_called_after_its_pitches(tmp_path: Path) -> None:
    assert droner_in(tmp_path, "drone", "F#4", "C#5", "--seconds", "1").out == "drone F#4 C#5.wav\n"
    assert files_in(tmp_path) == {"drone F#4 C#5.wav"}


def test_click_lasts_whole_bars(tmp_path: Path) -> None:
    # Two bars of seven eighths at 210 last 2 s each, and one bar does not fill 3 s.
    options = ("--tempo", "210", "--seconds", "3", "--out", "seven.mid", "--json")
    (told,) = droner_in(tmp_path, "click", "2+2+3/8", *options).data
    assert told["seconds"] == pytest.approx(4, abs=WHOLE_BARS_SECONDS)


def test_click_pattern_is_named_with_hyphens_too(tmp_path: Path) -> None:
    for name in ("off-beats", "off beats", "Two-Bars-On,-Two-Off"):
        assert droner_in(tmp_path, "click", "4/4", "--pattern", name, "--seconds", "1", "--out", "c.mid").code == 0


def test_patterns_give_the_sixty_ways_each_rhythm_with_each_articulation_once(tmp_path: Path) -> None:
    told = droner_in(tmp_path, "patterns", "variants", "--json").data
    met = Counter((row["rhythm"], row["articulation"]) for row in told["variants"])
    assert len(told["variants"]) == 60
    assert len(met) == 60
    assert [row["name"] for row in told["variant_sets"]][:1] == ["sixty"]


def test_patterns_list_a_players_own(tmp_path: Path) -> None:
    (tmp_path / "patterns").mkdir()
    (tmp_path / "patterns" / "mine.toml").write_text(
        '[rhythm."gallop"]\nabout = "Mine."\nlengths = "1/2 1/4 1/4"\n', encoding="utf-8"
    )
    rows = {row["name"]: row for row in droner_in(tmp_path, "patterns", "rhythms", "--json").data["rhythms"]}
    assert rows["gallop"]["lengths"] == ["1/2", "1/4", "1/4"]
    assert "gallop" in droner_in(tmp_path, "patterns").out


def test_patterns_of_all_kinds_come_as_data(tmp_path: Path) -> None:
    told = droner_in(tmp_path, "patterns", "--json").data
    assert all(row.get("name") or row.get("number") for rows in told.values() for row in rows)
    assert {"drills", "clicks", "orders"} <= set(told)


def test_instruments_say_what_a_written_c_sounds(tmp_path: Path) -> None:
    # Usual transpositions: common practice, no source.
    sounds = {row["name"]: row["written_c4_sounds"] for row in droner_in(tmp_path, "instruments", "--json").data}
    assert (sounds["flute"], sounds["clarinet"], sounds["alto saxophone"]) == ("C4", "Bb3", "Eb3")
    (one,) = droner_in(tmp_path, "instruments", "alto-flute", "--json").data
    assert (one["name"], one["written_c4_sounds"]) == ("alto flute", "G3")


@pytest.mark.parametrize("minutes", [10, 12, 15])
def test_a_short_day_leaves_no_key_out_that_would_fit(tmp_path: Path, minutes: int) -> None:
    """What each key costs, a day with time for all of them tells."""
    for day in ("2026-11-25", "2026-11-28"):
        short, whole = (
            droner_in(tmp_path, "today", f"--date={day}", f"--minutes={one}", "--json").data["items"]
            for one in (minutes, 240)
        )
        left = minutes * 60 - sum(item["seconds"] for item in short)
        taken = {item["place"] for item in short}
        costs: dict[int, float] = {}
        for item in whole:
            costs[item["place"]] = costs.get(item["place"], 0) + item["seconds"]
        dropped = [cost for place, cost in costs.items() if place not in taken]
        assert dropped
        assert 0 <= left < min(dropped)
