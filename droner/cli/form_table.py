"""List the forms a track can be made in: how --as names one, how its file name ends, and what it is.

Source  the ends of names are those of the sound and the MIDI floor.
"""

from __future__ import annotations

MIDI_FORM = "mid"
FORMS: dict[str, tuple[str, str]] = {
    "wav": (".wav", "16 bits, for any program"),
    "wav24": (".wav", "24 bits, for an audio editor"),
    "flac": (".flac", "every sample as in wav, smaller"),
    "ogg": (".ogg", "Ogg Vorbis, small"),
    "opus": (".opus", "Opus, small"),
    "mp3": (".mp3", "small, for every phone"),
    MIDI_FORM: (".mid", "a MIDI file"),
}
"""The end of a file's name, and what the form is in a few words."""
SUFFIXES = {name: suffix for name, (suffix, _) in FORMS.items()}
FORM_OF_SUFFIX = {suffix: name for name, suffix in SUFFIXES.items() if name != "wav24"}
"""What the end of a file's name asks for."""
