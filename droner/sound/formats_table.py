"""List the audio files we can write.

Rule    lossy formats spend at least 128 kbit/s, so that beats on high partials stay clean. MP3 runs at a
        constant bit rate, because only then do players find a place in it exactly; Vorbis spends what the
        sound needs, at a quality above its default.
Units   `effort` is the encoder's own scale in libsndfile, 0 the most bits and 1 the fewest, for one
        channel and for two; None where it does not matter. Rates in hertz, none meaning any.
        `at_once` is how many frames the encoder is handed at most: Vorbis moves all that it still holds after each
        of its own blocks.
        `level_kept` is what the encoder leaves of the level of every track; we give it that much more.
Source  libsndfile 1.2.2, measured: MP3 at 0.65 is 128 kbit/s from 32 kHz up, at 0.95 of the level; Opus
        gives each channel 6 + 250 (1 - effort) kbit/s; Vorbis needs 5 % less time for 16,384 frames at once than for
        131,072. Rates of Opus: RFC 6716; of MP3: ISO 11172-3, 13818-3.
"""

from __future__ import annotations

from dataclasses import dataclass

from droner.errors import nearest

_OPUS_RATES = (8_000, 12_000, 16_000, 24_000, 48_000)
_MP3_RATES = (16_000, 22_050, 24_000, 32_000, 44_100, 48_000)


@dataclass(frozen=True, slots=True)
class AudioFormat:
    """One kind of audio file: its name, the end of the file's name, and what libsndfile calls it.

    `bits` is given where the file holds whole numbers, which we round ourselves.
    """

    name: str
    suffix: str
    container: str
    coding: str
    bits: int | None = None
    bitrate_mode: str | None = None
    effort: tuple[float, float] | None = None
    level_kept: float = 1.0
    rates_hz: tuple[int, ...] = ()
    at_once: int | None = None


AUDIO_FORMATS: dict[str, AudioFormat] = {
    row.name: row
    for row in (
        AudioFormat("wav", ".wav", "WAV", "PCM_16", bits=16),
        AudioFormat("wav24", ".wav", "WAV", "PCM_24", bits=24),
        AudioFormat("flac", ".flac", "FLAC", "PCM_16", bits=16),
        AudioFormat("ogg", ".ogg", "OGG", "VORBIS", effort=(0.2, 0.2), at_once=16_384),
        AudioFormat("opus", ".opus", "OGG", "OPUS", effort=(0.5, 0.75), rates_hz=_OPUS_RATES),
        AudioFormat(
            "mp3", ".mp3", "MP3", "MPEG_LAYER_III",
            bitrate_mode="CONSTANT", effort=(0.65, 0.65), level_kept=0.95, rates_hz=_MP3_RATES,
        ),
    )
}  # fmt: skip


def audio_format(name: str) -> AudioFormat:
    """The format of that name. ValueError, with the nearest name, if there is none."""
    if name in AUDIO_FORMATS:
        return AUDIO_FORMATS[name]
    close = nearest(name, AUDIO_FORMATS)
    hint = f"; did you mean {close}?" if close else ""
    raise ValueError(f"{name!r} is not an audio format: {', '.join(AUDIO_FORMATS)}{hint}")
