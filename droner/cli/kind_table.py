"""List the kinds of patterns, each with its heading on a page."""

from __future__ import annotations

KINDS = {
    "drills": "drills",
    "rhythms": "rhythms",
    "articulations": "articulations",
    "dynamics": "dynamics",
    "accents": "accents",
    "turns": "turns: where a turning drill starts",
    "clicks": "clicks",
    "changes": "changes: the chords under a drill",
    "drones": "drones",
    "timbres": "timbres: how the drone sounds, from the one that carries furthest to the softest",
    "variants": "variants: sets of them, then all of them by number",
    "orders": "orders of keys",
    "climbs": "climbs: in which order a ladder is climbed",
}
