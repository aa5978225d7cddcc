"""List the wind instruments, one a line: what they are called, how they sound, what they reach.

Rule    name, other names, family, sounding (from written to sounding), clef, General MIDI program, and the
        written compass of a beginner, an intermediate and an advanced player.
Units   pitches as written, A4 = MIDI 69. Programs count from 1, as General MIDI prints them.
Source  sounding: music21 `instrument` and orchestralibrary.com range tables, for the instruments music21 has;
        the others from memory.
        Lowest notes: music21 `instrument.lowestNote` where it has the instrument; the others from memory.
        Horn F#2 and tuba E1, not the pedal notes C2 and D1: common practice, no source.
        Advanced highs: practical, books differ by up to a sixth; public score-data tables, or from memory.
        Beginner and intermediate compasses: common practice, no source.
        Programs: General MIDI level 1 sound set.
        Loud and soft: flutes and brass go sharp when louder, reeds flat (jrhighband.com, intonation
        challenges; tsmp.org, Allen, intonation tendencies); recorder sharp (music.stackexchange 126167).
        Notes below and above the compass: common practice, no source.
        Overblowing: octave for open and conical bores, twelfth for the stopped cylinder; acoustics of pipes.
"""

from __future__ import annotations

FAMILIES: tuple[tuple[str, str, str, int], ...] = (
    # family, overblows, loud goes, half-steps that some players have below the lowest note
    ("flute", "octave", "sharp", 2),  # B foot, B flat foot
    ("recorder", "octave", "sharp", 1),  # the end of the tube half closed
    ("double reed", "octave", "flat", 1),  # low A
    ("clarinet", "twelfth", "flat", 4),  # basset C
    ("saxophone", "octave", "flat", 1),  # low A
    ("brass", "brass", "sharp", 12),  # pedal notes
)
HALF_STEPS_ABOVE = 12
"""What some players may have above the highest note, on any instrument."""

Row = tuple[str, str, str, str, str, int, str]

ROWS: tuple[Row, ...] = (
    ("flute", "flute in c; concert flute; flute, C foot", "flute", "P1", "treble", 74, "C4-D6 C4-A6 C4-D7"),
    ("flute, B foot", "b foot flute", "flute", "P1", "treble", 74, "C4-D6 B3-A6 B3-D7"),
    ("piccolo", "", "flute", "P8", "treble", 73, "D4-D6 D4-A6 D4-C7"),
    ("alto flute", "alto flute in g; flute in g", "flute", "P4 down", "treble", 74, "C4-D6 C4-G6 C4-C7"),
    ("bass flute", "bass flute in c", "flute", "P8 down", "treble", 74, "C4-D6 C4-G6 C4-C7"),
    ("soprano recorder", "recorder; descant recorder", "recorder", "P8", "treble", 75, "C4-G5 C4-A5 C4-D6"),
    ("sopranino recorder", "", "recorder", "P8", "treble", 75, "F4-C6 F4-E6 F4-G6"),
    ("alto recorder", "treble recorder", "recorder", "P1", "treble", 75, "F4-C6 F4-E6 F4-G6"),
    ("tenor recorder", "", "recorder", "P1", "treble", 75, "C4-G5 C4-A5 C4-D6"),
    ("bass recorder", "", "recorder", "P8", "bass", 75, "F2-C4 F2-E4 F2-G4"),
    ("oboe", "", "double reed", "P1", "treble", 69, "C4-C6 Bb3-E6 Bb3-G6"),
    ("English horn", "cor anglais", "double reed", "P5 down", "treble", 70, "C4-A5 B3-C6 B3-E6"),
    ("bassoon", "", "double reed", "P1", "bass", 71, "F2-F4 Bb1-Bb4 Bb1-Eb5"),
    ("contrabassoon", "double bassoon", "double reed", "P8 down", "bass", 71, "F2-D4 Bb1-F4 Bb1-Bb4"),
    ("clarinet", "clarinet in b flat", "clarinet", "M2 down", "treble", 72, "E3-C6 E3-G6 E3-C7"),
    ("clarinet in A", "", "clarinet", "m3 down", "treble", 72, "E3-C6 E3-G6 E3-C7"),
    ("clarinet in E flat", "", "clarinet", "m3", "treble", 72, "E3-C6 E3-G6 E3-B6"),
    ("bass clarinet", "", "clarinet", "M9 down", "treble", 72, "E3-A5 Eb3-D6 Eb3-G6"),
    ("soprano saxophone", "soprano sax", "saxophone", "M2 down", "treble", 65, "C4-C6 Bb3-F6 Bb3-F#6"),
    ("alto saxophone", "alto sax; saxophone", "saxophone", "M6 down", "treble", 66, "C4-C6 Bb3-F6 Bb3-F#6"),
    ("tenor saxophone", "tenor sax", "saxophone", "M9 down", "treble", 67, "C4-C6 Bb3-F6 Bb3-F#6"),
    ("baritone saxophone", "baritone sax", "saxophone", "M13 down", "treble", 68, "C4-C6 Bb3-F6 Bb3-F#6"),
    ("horn", "french horn; horn in f", "brass", "P5 down", "treble", 61, "G3-E5 C3-A5 F#2-C6"),
    ("trumpet", "trumpet in b flat", "brass", "M2 down", "treble", 57, "G3-E5 F#3-A5 F#3-D6"),
    ("trumpet in C", "", "brass", "P1", "treble", 57, "G3-E5 F#3-A5 F#3-D6"),
    ("cornet", "", "brass", "M2 down", "treble", 57, "G3-E5 F#3-A5 F#3-C6"),
    ("flugelhorn", "", "brass", "M2 down", "treble", 57, "G3-E5 F#3-G5 F#3-C6"),
    ("trombone", "tenor trombone", "brass", "P1", "bass", 58, "A2-D4 E2-G4 E2-C5"),
    ("bass trombone", "", "brass", "P1", "bass", 58, "G2-C4 Bb1-F4 Bb1-Bb4"),
    ("euphonium", "baritone horn", "brass", "P1", "bass", 59, "A2-D4 E2-G4 E2-C5"),
    ("tuba", "", "brass", "P1", "bass", 59, "F1-Bb2 E1-D3 E1-F4"),
)  # fmt: skip
