"""Write a score as an audio file. (Shore: touches the disk.)

Rule    the same score, mix and tags give the same file, byte for byte, on one machine. It is written block by
        block and appears whole or not at all; a pipe gets the bytes of that same file. Sixteen-bit samples are
        rounded, not dithered: a drone stands some 75 dB above the rounding error, and silence stays silent.
Units   frames; samples at full scale 1.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, BinaryIO

import numpy as np
import numpy.typing as npt
from soundfile import SoundFile

from droner.score.score import Score
from droner.sound.encoder_file import EncoderFile
from droner.sound.formats_table import AudioFormat, audio_format
from droner.sound.held_interrupt import held_interrupt
from droner.sound.id3 import id3_tag
from droner.sound.mix import Mix
from droner.sound.ogg_pages import fix_stream_number
from droner.sound.render import RATE_HZ, render_blocks
from droner.sound.tags import Tags
from droner.sound.voice import Samples
from droner.whole_file import whole_file

SHORT, LONG = 16, 32
"""Bits of the whole numbers that libsndfile takes; it writes the uppermost bits of a long one."""

NO_TAGS = Tags()


def write_audio(
    path: Path,
    score: Score,
    mix: Mix,
    format_name: str = "wav",
    tags: Tags = NO_TAGS,
    *,
    progress: Callable[[int], None] | None = None,
    rate_hz: int = RATE_HZ,
) -> None:
    """Write the score to `path` in the format of that name; `progress` is told the frames done so far.

    It is told them again while a pipe lets us wait, and may raise to end the work.
    MachineError when the file cannot be written; ValueError for a format or rate that does not exist.
    """
    form = audio_format(format_name)
    if form.rates_hz and rate_hz not in form.rates_hz:
        allowed = ", ".join(str(rate) for rate in form.rates_hz)
        raise ValueError(f"{form.name} files run at {allowed} Hz, not at {rate_hz}")
    told = _Told(progress or _tell_nobody)
    with whole_file(path, told.again) as file:
        if form.container == "MP3":
            file.write(id3_tag(tags))
        _encode(file, form, tags, score, mix, rate_hz=rate_hz, progress=told)
        if form.container == "OGG":
            fix_stream_number(file)


def _encode(
    file: BinaryIO,
    form: AudioFormat,
    tags: Tags,
    score: Score,
    mix: Mix,
    *,
    rate_hz: int,
    progress: Callable[[int], None],
) -> None:
    with (
        held_interrupt() as obey,
        EncoderFile(file) as handed,
        _encoder(handed, form, mix.channel_count, rate_hz) as encoder,
    ):
        _tag(encoder, form, tags)
        done = 0
        for block in render_blocks(score, mix, rate_hz):
            for part in _parts(_as_written(block, form), form.at_once):
                encoder.write(part)
            handed.raise_failure()
            obey()
            done += len(block)
            progress(done)


def _parts(block: npt.NDArray[Any], at_once: int | None) -> Iterator[npt.NDArray[Any]]:
    """The block, in parts of so many frames where that is given."""
    step = at_once or max(len(block), 1)
    return (block[start : start + step] for start in range(0, len(block), step))


def _tell_nobody(_: int) -> None:
    pass


@dataclass(slots=True)
class _Told:
    """Tells the frames done so far, and tells them again while nothing moves: whoever listens may end the work."""

    progress: Callable[[int], None]
    frames: int = 0

    def __call__(self, frames: int) -> None:
        self.frames = frames
        self.again()

    def again(self) -> None:
        self.progress(self.frames)


def _encoder(handed: EncoderFile, form: AudioFormat, channels: int, rate_hz: int) -> SoundFile:
    wishes: dict[str, Any] = {}
    if form.effort:
        wishes["compression_level"] = form.effort[channels - 1]
    if form.bitrate_mode:
        wishes["bitrate_mode"] = form.bitrate_mode
    return SoundFile(handed, "w", rate_hz, channels, form.coding, format=form.container, **wishes)


def _tag(encoder: SoundFile, form: AudioFormat, tags: Tags) -> None:
    """Give the encoder the tags, before the first sample. An MP3 has ours already: its own garbles letters."""
    if form.container == "MP3":
        return
    for name, text in (
        ("title", tags.title),
        ("album", tags.album),
        ("tracknumber", tags.track_of_total),
        ("artist", tags.artist),
        ("comment", tags.comment),
        ("date", tags.date),
    ):
        if text:
            setattr(encoder, name, text)


def _as_written(block: Samples, form: AudioFormat) -> npt.NDArray[Any]:
    """The block as the encoder takes it: whole numbers that we round ourselves, or samples a little higher.

    The block itself is used up. Nothing reaches full scale; a fault of ours shall not become a bang.
    """
    if not form.bits:
        if form.level_kept != 1:
            block /= np.float32(form.level_kept)
        return block
    full_scale = 1 << (form.bits - 1)
    block *= np.float32(full_scale)
    np.rint(block, out=block)
    block.clip(-full_scale, full_scale - 1, out=block)
    whole: npt.NDArray[Any] = block.astype(np.int16 if form.bits == SHORT else np.int32)
    return whole if form.bits == SHORT else whole << (LONG - form.bits)
