"""Write a score as an audio file. (Shore: touches the disk.)

Rule    the same score, mix and tags give the same file, byte for byte, on one machine. It is written block by
        block and appears whole or not at all. Sixteen-bit samples are rounded, not dithered: a drone stands
        some 75 dB above the rounding error, and silence stays silent.
Units   frames; samples at full scale 1.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
from soundfile import SoundFile

from droner.score.score import Score
from droner.sound.encoder_file import EncoderFile
from droner.sound.formats_table import AudioFormat, audio_format
from droner.sound.id3 import id3_tag
from droner.sound.mix import Mix
from droner.sound.ogg_pages import fix_stream_number
from droner.sound.render import RATE_HZ, render_blocks
from droner.sound.tags import Tags
from droner.sound.voice import Samples
from droner.sound.whole_file import whole_file

_FULL_SCALE_16 = 32_768
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

    MachineError when the file cannot be written; ValueError for a format or rate that does not exist.
    """
    form = audio_format(format_name)
    if form.rates_hz and rate_hz not in form.rates_hz:
        allowed = ", ".join(str(rate) for rate in form.rates_hz)
        raise ValueError(f"{form.name} files run at {allowed} Hz, not at {rate_hz}")
    channels = len(mix.channel_factors(0.0))
    with whole_file(path) as file:
        if form.container == "MP3":
            file.write(id3_tag(tags))
        with EncoderFile(file) as handed, _encoder(handed, form, channels, rate_hz) as encoder:
            _tag(encoder, form, tags)
            for done in _written(encoder, handed, form, render_blocks(score, mix, rate_hz)):
                if progress:
                    progress(done)
        if form.container == "OGG":
            fix_stream_number(file)


def _written(encoder: SoundFile, handed: EncoderFile, form: AudioFormat, blocks: Iterable[Samples]) -> Iterator[int]:
    """Write the blocks one by one; give the frames written so far after each."""
    done = 0
    for block in blocks:
        encoder.write(_sixteen_bits(block) if form.bits else block / np.float32(form.level_kept))
        handed.raise_failure()
        done += len(block)
        yield done


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


def _sixteen_bits(block: Samples) -> npt.NDArray[np.int16]:
    """The nearest whole number. Nothing reaches full scale; a fault of ours shall not become a bang."""
    scaled = np.rint(block * np.float32(_FULL_SCALE_16))
    whole: npt.NDArray[np.int16] = np.clip(scaled, -_FULL_SCALE_16, _FULL_SCALE_16 - 1).astype(np.int16)
    return whole
