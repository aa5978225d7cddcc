"""List the forms a track can be made in: how --as names one, how its file name ends, and what it is.

Source  the ends of names are those of the sound and the MIDI floor.
"""

from __future__ import annotations

from dataclasses import dataclass

MIDI_FORM = "mid"


@dataclass(frozen=True, slots=True)
class Form:
    """One form: the end of its file name, and what it is in a few words."""

    suffix: str
    about: str


FORMS = {
    "wav": Form(".wav", "16 bits, for any program"),
    "wav24": Form(".wav", "24 bits, for an audio editor"),
    "flac": Form(".flac", "every sample as in wav, smaller"),
    "ogg": Form(".ogg", "Ogg Vorbis, small"),
    "opus": Form(".opus", "Opus, small"),
    "mp3": Form(".mp3", "small, for every phone"),
    MIDI_FORM: Form(".mid", "a MIDI file"),
}
FORM_OF_SUFFIX = {form.suffix: name for name, form in FORMS.items() if name != "wav24"}
"""What the end of a file's name asks for."""
