"""Titles and numbers arrive in every kind of file, in every letter.

Referees  mutagen and ffprobe, which read the tags on their own; the layout of an ID3 head is in ID3v2.3.0, 3.1.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import mutagen
import pytest

from droner.sound.audio_file import write_audio
from droner.sound.formats_table import AUDIO_FORMATS
from droner.sound.id3 import id3_tag
from droner.sound.tags import Tags
from droner.units import Beats
from tests.sound.measure import CLICK_ALONE, RATE_HZ, rendered
from tests.sound.readers import by_ffmpeg, by_soundfile, told_by_ffprobe
from tests.sound.scores import click, score

TAGS = Tags(
    title="E♭ major – größer, 練習 𝄞",
    album="Monday 5 January",
    track=3,
    total=24,
    artist="Ægir Þór",
    comment="dotted; soft: “pp”",
    date="2026-01-05",
)
SCORE = score(Beats(3), clicks=[click(beat) for beat in range(3)])
OGG_TAGS = {
    "title": TAGS.title,
    "album": TAGS.album,
    "tracknumber": "3/24",
    "artist": TAGS.artist,
    "comment": TAGS.comment,
    "date": TAGS.date,
}


def tagged(folder: Path, name: str, tags: Tags = TAGS) -> Path:
    path = folder / f"track.{name}"
    write_audio(path, SCORE, CLICK_ALONE, name, tags)
    return path


@pytest.mark.parametrize("name", list(AUDIO_FORMATS))
def test_ffprobe_reads_every_tag(tmp_path: Path, name: str) -> None:
    told, _ = told_by_ffprobe(tagged(tmp_path, name))
    assert told["title"] == TAGS.title
    assert told["album"] == TAGS.album
    assert told["artist"] == TAGS.artist
    assert told["comment"] == TAGS.comment
    assert told["track"] == "3/24"
    assert told["date"].startswith("2026")


@pytest.mark.parametrize("name", ["flac", "ogg", "opus"])
def test_mutagen_reads_every_tag(tmp_path: Path, name: str) -> None:
    told = mutagen.File(tagged(tmp_path, name))
    assert {key: told[key] for key in OGG_TAGS} == {key: [text] for key, text in OGG_TAGS.items()}


def test_mutagen_reads_every_tag_of_an_mp3(tmp_path: Path) -> None:
    told: Any = mutagen.File(tagged(tmp_path, "mp3")).tags
    assert told.version == (2, 3, 0)
    assert told["TIT2"].text == [TAGS.title]
    assert told["TALB"].text == [TAGS.album]
    assert told["TPE1"].text == [TAGS.artist]
    assert told["TRCK"].text == ["3/24"]
    assert told["COMM::eng"].text == [TAGS.comment]
    assert [str(date) for date in told["TDRC"].text] == ["2026-01-05"]


def test_an_mp3_with_a_tag_holds_the_same_sound(tmp_path: Path) -> None:
    plain, tagged_file = tagged(tmp_path, "mp3", Tags()).read_bytes(), tagged(tmp_path, "mp3").read_bytes()
    tag = id3_tag(TAGS)
    assert tagged_file == tag + plain
    for reader in (by_soundfile, by_ffmpeg):
        heard = reader(tmp_path / "track.mp3")
        assert len(heard) == 3 * RATE_HZ
        wave = rendered(SCORE, CLICK_ALONE)
        assert abs(heard[RATE_HZ - 5 : RATE_HZ + 6]).argmax() == abs(wave[RATE_HZ - 5 : RATE_HZ + 6]).argmax()


def test_the_head_of_the_tag_is_as_the_standard_draws_it() -> None:
    """Bytes worked out by hand from ID3v2.3.0, 3.1, 3.3 and 4.2, for a title of one letter."""
    assert id3_tag(Tags(title="A")) == bytes.fromhex(
        "49 44 33 03 00 00"  # "ID3", version 3.0, no flags
        "00 00 00 0f"  # 15 bytes follow, seven bits in each byte
        "54 49 54 32 00 00 00 05 00 00"  # "TIT2", 5 bytes, no flags
        "01 ff fe 41 00"  # UTF-16, little end first, "A"
    )


def test_a_long_tag_tells_its_length_in_seven_bits_a_byte() -> None:
    """200 letters are 400 bytes; with mark, coding and frame head 413 = 3 x 128 + 29."""
    assert id3_tag(Tags(title="A" * 200))[6:10] == bytes([0, 0, 3, 29])


@pytest.mark.parametrize("name", list(AUDIO_FORMATS))
def test_no_tags_are_no_trouble(tmp_path: Path, name: str) -> None:
    told, _ = told_by_ffprobe(tagged(tmp_path, name, Tags()))
    assert not {"title", "album", "artist", "track", "comment", "date"} & set(told)


@pytest.mark.parametrize(("tags", "shown"), [(Tags(), ""), (Tags(track=3), "3"), (Tags(track=3, total=24), "3/24")])
def test_the_number_is_shown_as_players_know_it(tags: Tags, shown: str) -> None:
    assert tags.track_of_total == shown


@pytest.mark.parametrize(("date", "frames"), [("2026", {"TYER"}), ("2026-01-05", {"TYER", "TDAT"}), ("soon", set())])
def test_a_date_is_a_year_or_a_day_or_nothing(date: str, frames: set[str]) -> None:
    tag = id3_tag(Tags(title="A", date=date))
    assert {name for name in ("TYER", "TDAT") if name.encode() in tag} == frames
