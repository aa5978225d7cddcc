"""A small library of patterns and a small session for the reading tests: invented, just enough to name every sort."""

from __future__ import annotations

from functools import lru_cache

from droner.practice.pattern import Patterns
from droner.practice.reading.pattern_reading import read_patterns

ROWS = """\
[rhythm]
"even"   = { about = "Four even notes.", lengths = "1/4 1/4 1/4 1/4" }
"dotted" = { about = "Long and short.", lengths = "3/4 1/4" }

[articulation]
"slurred"  = { about = "One attack.", first = ["tongue"], cycle = ["slur"] }
"detached" = { about = "Short.", cycle = ["tongue short"] }

[dynamic]
"medium" = { about = "Level.", low = "mf", high = "mf" }

[accent]
"none" = { about = "No accent.", at = "none" }

[turn]
"from below" = { about = "From the low tonic.", start = "low tonic" }
"from five"  = { about = "From the fifth.", start = 5 }

[click]
"every beat" = { about = "All beats." }
"after"      = { about = "Between the beats.", offset = "1/2" }

[changes]
"none"    = { about = "No chords.", kind = "none" }
"cadence" = { about = "One four five.", kind = "progression", major = ["I", "IV", "V7"], minor = ["i", "iv", "V7"] }
"written" = { about = "The study's own.", kind = "written" }

[drone]
"none"  = { about = "No drone.", degrees = [] }
"tonic" = { about = "The tonic.", degrees = [1] }
"off"   = { about = "A bar of it, a bar of silence; and off.", degrees = [1], bars_off = 1, returns = [0, 9] }

[variant_set]
"sixty" = { about = "All that there are: here only four." }
"two"   = { about = "Slurred only.", articulations = ["slurred"] }
"""

VARIANTS = """\
variant = [
  ["even", "slurred", "medium", "none", "every beat", "from below"],
  ["dotted", "slurred", "medium", "none", "after", "from five"],
  ["even", "detached", "medium", "none", "after", "from below"],
  ["dotted", "detached", "medium", "none", "every beat", "from below"],
]
"""

DRILLS = """\
[drill."slow tones"]
about = "Half-steps from the middle."
staple = "tone"
material = "chromatic"
cells = ["1 2"]
lengths = ["4 3"]
path = "from the middle"
keyed = false
varies = false

[drill."long scale"]
about = "Up and down."
staple = "scales"
material = "scale"
tempo = 84

[drill."keeping pitch"]
about = "Up and down, with chords and a drone that comes back off."
staple = "scales"
material = "scale"
drone = "off"
changes = "cadence"

[drill."little study"]
about = "Two bars."
staple = "study"
meter = "3/4"
study = ["I | 1:1 3:1 5:1", "V7 I | 7:1 #4:1/2 -2:1/2 r:1 '"]
study_minor = ["i | 1:1 3:1 5:1", "V7 i | #7:1 4:1/2 -2:1/2 r:1 '"]
changes = "written"

[drill."seventh, then home"]
about = "The dominant seventh, then the tonic."
staple = "arpeggios"
[[drill."seventh, then home".strain]]
material = "chord"
of = "V7"
[[drill."seventh, then home".strain]]
material = "chord"
of = "I i"
path = "octave"
"""

FILES = (("rows.toml", ROWS), ("variants.toml", VARIANTS), ("drills.toml", DRILLS))

SESSION = """\
title = "Winter"
instrument = "flute"
level = "intermediate"
minutes = 45
range = ["C4", "A6"]
[tuning]
a4 = 442
temperament = "just"
reference = "D"
[rotation]
keys = ["C major", "A minor", "Eb major"]
keys_per_day = 2
variants = "sixty"
moves = "when done"
done = 7
[sound]
timbre = "bright"
guide = true
[sound.click]
level_db = -6
pan = 0.25
[[block]]
drill = "slow tones"
tempo = 56.5
minutes = 10
drone = "tonic"
drone_octave = 3
[[block]]
drill = "long scale"
ladder = { from = 60, to = 126 }
keys = "all"
variant = 3
speeds = [80, 90, 100]
glide = [80, 100]
changes = "cadence"
click = "after"
meter = "4/4"
count_in = 2
guide = false
"""


@lru_cache(maxsize=1)
def library() -> Patterns:
    return read_patterns(FILES)
