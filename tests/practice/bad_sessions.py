"""Session files with one mistake each, as players make them: text, line, key, and words of the message.

Rule    ONE_KEY: a single key is wrong by itself, so an editor can see it too. TOGETHER: two keys do not go
        together. SYNTAX: the line is not TOML. GOOD, a good block, stands under every text that has none.
"""

from __future__ import annotations

GOOD = '\n[[block]]\ndrill = "long scale"\n'
Case = tuple[str, int, str, str]

ONE_KEY_AT_THE_TOP: tuple[Case, ...] = (
    ('tittle = "Winter"', 1, "tittle", "did you mean: title"),
    ("title = 7", 1, "title", "a whole number, but text"),
    ('title = ""', 1, "title", "empty"),
    ('title = "a\\nb"', 1, "title", "line break"),
    ('instrument = "flut"', 1, "instrument", "did you mean: flute"),
    ('instrument = ["flute"]', 1, "instrument", "a list, but text"),
    ('level = "expert"', 1, "level", '"beginner", "intermediate", "advanced"'),
    ("minutes = 4", 1, "minutes", "too small"),
    ("minutes = 241", 1, "minutes", "a number from 5 to 240"),
    ('minutes = "45"', 1, "minutes", "text, but a number"),
    ("minutes = nan", 1, "minutes", "not a number"),
    ("minutes = inf", 1, "minutes", "too large"),
    ("minutes = true", 1, "minutes", "yes or no, but a number"),
    ('range = ["C4"]', 1, "range", "has 1 member\n"),
    ('range = ["C4", "H7"]', 1, "range[2]", "not a pitch"),
    ('range = [\n  "C",\n  "D7",\n]', 2, "range[1]", "not a pitch with its octave"),
    ('range = ["C\u0664", "D7"]', 1, "range[1]", "not a pitch"),
    ('range = "C4 to D7"', 1, "range", "a list belongs here"),
    ("air_seconds = 2.9", 1, "air_seconds", "a number from 3 to 30"),
    ("seed = -1", 1, "seed", "too small"),
    ("seed = 1.5", 1, "seed", "a whole number belongs here"),
    ('concert_keys = "yes"', 1, "concert_keys", "did you mean: true"),
    ("a4 = 442", 1, "a4", "did you mean: a4 under [tuning]"),
    ("tuning = 442", 1, "tuning", "a table belongs here"),
    ("[tuning]\na4 = 379", 2, "tuning.a4", "too small"),
    ("[tuning]\n\na4 = 481", 3, "tuning.a4", "a number from 380 to 480"),
    ('[tuning]\ntemperament = "jsut"', 2, "tuning.temperament", "did you mean: just"),
    ('[tuning]\nreference = "A4"', 2, "tuning.reference", "not a note"),
    ('[tuning]\ntonic_stands = "on the C"', 2, "tuning.tonic_stands", "did you mean: on the A"),
    ('[tuning]\nminor_third = "5/4"', 2, "tuning.minor_third", '"6/5"'),
    ("[tuning]\nseventh = 1.75", 2, "tuning.seventh", "text belongs here"),
    ("[tunning]\na4 = 442", 1, "tunning", "did you mean: tuning"),
    ("[sound]\ntimbre = 'brite'", 2, "sound.timbre", "did you mean: bright"),
    ("[sound.drone]\nlevel_db = 7", 2, "sound.drone.level_db", "too large"),
    ("[sound.click]\npan = -1.5", 2, "sound.click.pan", "a number from -1 to 1"),
    ("[sound.changes]\non = 1", 2, "sound.changes.on", "true or false"),
    ("[sound]\nguide = 'on'", 2, "sound.guide", "text does not belong here"),
    ("[sound.solo]\non = true", 1, "sound.solo", "no such key"),
    ("sound.drone.loud = 3", 1, "sound.drone.loud", "level_db, pan, on"),
)
"""One key wrong above a good block."""

ONE_KEY_IN_THE_ROTATION: tuple[Case, ...] = (
    ('keys = "half steps up, minor then mayor"', 2, "rotation.keys", "did you mean: half-steps up, minor then major"),
    ('keys = ["C major", "Eb mayor"]', 2, "rotation.keys[2]", "did you mean: Eb major"),
    ('keys = ["E whole tone"]', 2, "rotation.keys[1]", "not a key"),
    ("keys = []", 2, "rotation.keys", "0 members"),
    ('keys = ["C major", "c  major"]', 2, "rotation.keys[2]", "already number 1"),
    ('keys = ["C major", "c minor", 3]', 2, "rotation.keys[3]", "a whole number, but text"),
    ('start = "C4"', 2, "rotation.start", "not a note"),
    ("keys_per_day = 0", 2, "rotation.keys_per_day", "too small"),
    ("keys_per_day = 6.0", 2, "rotation.keys_per_day", "a number, but a whole number"),
    ('variants = "fourty"', 2, "rotation.variants", "no set of variants"),
    ('moves = "by the calender"', 2, "rotation.moves", "did you mean: by the calendar"),
    ('begins = "2026-09-01"', 2, "rotation.begins", "did you mean: 2026-09-01"),
    ("begins = 2026-09-01T10:00:00", 2, "rotation.begins", "a date with a time"),
    ("done = -1", 2, "rotation.done", "too small"),
    ("key_per_day = 3", 2, "rotation.key_per_day", "did you mean: keys_per_day"),
)
"""One key wrong under [rotation], which stands on line 1."""

SCALE_LADDER = 'drill = "long scale"\nladder = { from = 60, to = 90,'

ONE_KEY_IN_THE_BLOCK: tuple[Case, ...] = (
    ('drill = "long scales"', 2, "block[1].drill", "did you mean: long scale"),
    ("tempo = 60", 1, "block[1]", "'drill' is missing"),
    ('drill = "long scale"\ntempo = 19', 3, "block[1].tempo", "too small"),
    ('drill = "long scale"\ntempo = "fast"', 3, "block[1].tempo", "a number from 20 to 300"),
    ('drill = "long scale"\nladder = [60, 90]', 3, "block[1].ladder", "a table with the keys from, to"),
    ('drill = "long scale"\nladder = { from = 60 }', 3, "block[1].ladder", "'to' is missing"),
    ('drill = "long scale"\nladder = { from = 60, upto = 90, to = 80 }', 3, "block[1].ladder.upto", "no such key"),
    ('drill = "long scale"\n[block.ladder]\nfrom = 60\nto = 301', 5, "block[1].ladder.to", "too large"),
    (f"{SCALE_LADDER} climb = 'terrace' }}", 3, "block[1].ladder.climb", "did you mean: terraces"),
    (f"{SCALE_LADDER} each = 'keys' }}", 3, "block[1].ladder.each", "did you mean: key"),
    (f"{SCALE_LADDER} up_after = 0 }}", 3, "block[1].ladder.up_after", "too small"),
    (f"{SCALE_LADDER} clean_share = 101 }}", 3, "block[1].ladder.clean_share", "too large"),
    (f"{SCALE_LADDER} runs = [] }}", 3, "block[1].ladder.runs", "0 members"),
    ('drill = "long scale"\nlisten_first = "yes"', 3, "block[1].listen_first", "true or false"),
    ('drill = "long scale"\nminutes = 0', 3, "block[1].minutes", "0.5 to 240"),
    ('drill = "long scale"\nkeys = "every"', 3, "block[1].keys", '"all"'),
    ('drill = "long scale"\nkeys = 3', 3, "block[1].keys", "does not belong"),
    ('drill = "long scale"\nkeys = ["C major", "X"]', 3, "block[1].keys[2]", "not a key"),
    ('drill = "long scale"\nvariant = 5', 3, "block[1].variant", "from 1 to 4"),
    ('drill = "long scale"\nvariant = "palin"', 3, "block[1].variant", "did you mean: plain"),
    ('drill = "long scale"\nspeeds = []', 3, "block[1].speeds", "0 members"),
    ('drill = "long scale"\nspeeds = [80, 9]', 3, "block[1].speeds[2]", "too small"),
    ('drill = "long scale"\nglide = [80, 90, 100]', 3, "block[1].glide", "a list of 2"),
    ('drill = "long scale"\ndrone = "tonik"', 3, "block[1].drone", "did you mean: tonic"),
    ('drill = "scale"', 2, "block[1].drill", "did you mean: long scale"),
    ('drill = "long scale"\ndrone_octave = 7', 3, "block[1].drone_octave", "from 1 to 6"),
    ('drill = "long scale"\ndrone_octave = "bset"', 3, "block[1].drone_octave", "did you mean: best"),
    ('drill = "long scale"\nchanges = "cadense"', 3, "block[1].changes", "did you mean: cadence"),
    ('drill = "long scale"\nclick = "ever beat"', 3, "block[1].click", "did you mean: every beat"),
    ('drill = "long scale"\nmeter = "4/5"', 3, "block[1].meter", "not a meter"),
    ('drill = "long scale"\nmeter = "\u0664/\u0664"', 3, "block[1].meter", "not a meter"),
    ('drill = "long scale"\ncount_in = 5', 3, "block[1].count_in", "from 0 to 4"),
    ('drill = "long scale"\nguide = 1', 3, "block[1].guide", "true or false"),
    ('drill = "long scale"\npartner = "reed-like"', 3, "block[1].partner", "a table belongs here"),
    ('drill = "long scale"\npartner = { cents = 5 }', 3, "block[1].partner", "'kind' is missing"),
    ('drill = "long scale"\npartner = { kind = "reedlike" }', 3, "block[1].partner.kind", "did you mean: reed-like"),
    ('drill = "long scale"\npartner = { kind = "tired low", cents = 51 }', 3, "block[1].partner.cents", "0 to 50"),
    (
        'drill = "long scale"\npartner = { kind = "tired low", cents = 7.5 }',
        3,
        "block[1].partner.cents",
        "a whole number",
    ),
    ('drill = "long scale"\npartner = { kind = "tired low", role = "lead" }', 3, "block[1].partner.role", "half-way"),
    ('drill = "long scale"\n[block.partner]\nkind = "tired low"\nrole = "hol"', 5, "block[1].partner.role", "hold?"),
    ('drill = "long scale"\nkeys_per_day = 2', 3, "block[1].keys_per_day", "keys_per_day under [rotation]"),
)
"""One key wrong under [[block]], which stands on line 1."""

WHOLE_FILES: tuple[Case, ...] = (
    ("", 0, "", "'block' is missing"),
    ("[rotation]\ndone = 0\n", 0, "", "'block' is missing"),
    ('[block]\ndrill = "long scale"\n', 1, "block", "[[block]], with two pairs"),
    ("block = []\n", 1, "block", "0 members"),
    ("block = [3]\n", 1, "block[1]", "a table belongs here"),
)
"""The whole file as it stands."""

TOGETHER_AT_THE_TOP: tuple[Case, ...] = (
    ('range = ["D7", "C4"]', 1, "range", "the lower one"),
    ('range = ["C4", "C4"]', 1, "range", "the lower one"),
    ('range = ["A3", "C7"]', 1, "range[1]", "Bb3 to D8"),
    ('range = ["C4", "D9"]', 1, "range[2]", "no flute reaches so far"),
    ('instrument = "piccolo"\nrange = ["D4", "D8"]', 2, "range[2]", "C4 to C8"),
    ('instrument = "bassoon"\nrange = [\n  "Ab1",\n  "C5",\n]', 3, "range[1]", "A1 to Eb6"),
    ('[tuning]\ntemperament = "equal"\nminor_third = "19/16"', 3, "tuning.minor_third", "only just tuning"),
)

TOGETHER_IN_THE_ROTATION: tuple[Case, ...] = (
    ('moves = "by the calendar"', 2, "rotation.moves", "first day is missing"),
    ('moves = "when done"\nbegins = 2026-09-01', 3, "rotation.begins", "by the calendar"),
    ('moves = "by the calendar"\nbegins = 2026-09-01\ndone = 3', 4, "rotation.done", "when done"),
    ("done = 3", 2, "rotation.done", "when done"),
    ('keys = ["C major"]\nkeys_per_day = 2', 3, "rotation.keys_per_day", "only 1 keys"),
    ("keys_per_day = 25", 2, "rotation.keys_per_day", "1 to 24"),
    ('keys = ["C major"]\nstart = "D"', 3, "rotation.start", "an order by name"),
)

TOGETHER_IN_THE_BLOCK: tuple[Case, ...] = (
    ('drill = "long scale"\ntempo = 60\nladder = { from = 60, to = 90 }', 4, "block[1].ladder", "not both"),
    ('drill = "long scale"\nladder = { from = 126, to = 60 }', 3, "block[1].ladder", "from 126 to 60"),
    ('drill = "long scale"\nladder = { from = 60, to = 60 }', 3, "block[1].ladder", "from lower than to"),
    ('drill = "slow tones"\nkeys = "all"', 3, "block[1].keys", "stands in no key"),
    ('drill = "slow tones"\nvariant = 2', 3, "block[1].variant", "as it is written"),
    ('drill = "long scale"\nchanges = "written"', 3, "block[1].changes", "no study"),
    ('drill = "long scale"\ndrone = "none"\ndrone_octave = 3', 4, "block[1].drone_octave", "no drone"),
    ('drill = "long scale"\ndrone = "none"\npartner = { kind = "reed-like" }', 4, "block[1].partner", "no drone"),
    (
        'drill = "long scale"\nchanges = "cadence"\npartner = { kind = "reed-like", role = "hold" }',
        3,
        "block[1].changes",
        "give away the pitch",
    ),
    (
        'drill = "long scale"\nguide = true\npartner = { kind = "reed-like", role = "hold" }',
        3,
        "block[1].guide",
        "give away the pitch",
    ),
    (
        'drill = "long scale"\ndrone = "off"\nchanges = "cadence"',
        4,
        "block[1].changes",
        "give away how the drone comes back",
    ),
    ('drill = "keeping pitch"\nchanges = "cadence"', 3, "block[1].changes", "a drone without returns"),
    ('drill = "keeping pitch"\nlisten_first = true', 3, "block[1].listen_first", "give away how the drone comes back"),
    (f"{SCALE_LADDER} step_bpm = 4, step_per_cent = 5 }}", 3, "block[1].ladder.step_bpm", "steps have one size"),
    (f"{SCALE_LADDER} climb = 'fewer clicks', step_bpm = 4 }}", 3, "block[1].ladder.step_bpm", "has no steps"),
    (f"{SCALE_LADDER} climb = 'one cold run', end_runs = 2 }}", 3, "block[1].ladder.end_runs", "one run"),
    (f"{SCALE_LADDER} after_3_days = 60 }}", 3, "block[1].ladder", "the longer away"),
    (f"{SCALE_LADDER} runs = [90, 100] }}\nspeeds = [80, 100]", 3, "block[1].ladder.runs", "runs and speeds"),
    ('drill = "keeping pitch"\nguide = true', 3, "block[1].guide", "give away how the drone comes back"),
    ('drill = "long scale"\ntempo = 20\nspeeds = [100, 15]', 4, "block[1].speeds", "MIDI"),
    ('drill = "long scale"\ntempo = 20\nglide = [15, 100]', 4, "block[1].glide", "MIDI"),
)

SYNTAX: tuple[Case, ...] = (
    ("minutes = 4,5", 1, "minutes", "a comma stands where the decimal point belongs"),
    ("instrument = flute", 1, "instrument", "a text needs quotes"),
    ("instrument = \u201cflute\u201d", 1, "instrument", "curly quotes"),
    ("instrument = \u201eflute\u201c", 1, "instrument", "curly quotes"),
    ('instrument = "flute', 1, "instrument", "the closing quote is missing"),
    ("instrument = 'flute", 1, "instrument", "the closing quote is missing"),
    ("concert_keys = yes", 1, "concert_keys", "yes is written another way"),
    ("concert_keys = False", 1, "concert_keys", "no is written another way"),
    ("minutes: 45", 1, "minutes", "a colon stands where = belongs"),
    ("minutes 45", 1, "minutes", "there is no = here"),
    ("minutes =", 1, "minutes", "nothing after the ="),
    ("minutes = 045", 1, "minutes", "does not start with 0"),
    ("minutes = 45 min", 1, "minutes", "more than a number"),
    ("minutes = 4.", 1, "minutes", "a figure on both sides"),
    ("minutes = 1/2", 1, "minutes", "a fraction needs quotes"),
    ("air seconds = 12", 1, "air", "a key is one word"),
    ("// my session", 1, "", "a remark starts with another sign"),
    ('title = "C:\\practice"', 1, "title", "a backslash"),
    ('title = "a" "b"', 1, "title", "more here than one key"),
    ('title = "a"\ntitle = "b"', 2, "title", "already written above"),
    ("[tuning\na4 = 442", 1, "tuning", "the closing bracket is missing"),
    ("[tuning]\na4 = 442\n[tuning]", 3, "", "this table is already written above"),
    ("[[tuning]\na4 = 442", 1, "tuning", "a closing bracket is missing"),
    ('range = [\n  "C4",\n  "D7"\nminutes = 3', 1, "range", "opened with [ and not closed"),
    ('title = """\nWinter\n', 1, "title", "no closing quote"),
    ("sound = { guide = true", 1, "sound", "{ is opened and not closed"),
    ("[rotation]\nbegins = 1.9.2026", 2, "rotation.begins", "the year first"),
    ("[rotation]\nbegins = 2026-02-30", 2, "rotation.begins", "no such day"),
    ('title = "\x01"', 1, "title", "a sign that cannot stand here"),
    ("minutes = " + "[" * 5000, 0, "", "far too deep"),
    ("minutes = " + "1" * 5000, 1, "", "too many figures"),
)
"""A line that is not TOML, above a good block."""
