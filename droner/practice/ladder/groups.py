"""Say which group of a drill's items an item belongs to, where each group climbs by itself.

Rule    a group is named by what its items share: a mode ("minor"), a key, a rhythm or an articulation. A drill that
        climbs as a whole has one group without a name, and so have items without a key where keys make the groups.
Units   none.
"""

from __future__ import annotations

EACH = ("drill", "mode", "key", "rhythm", "articulation")
"""What may climb by itself."""
WHOLE_DRILL = EACH[0]


def group_of(each: str, key: str, rhythm: str, articulation: str) -> str:
    """The name of an item's group. `key` as written, "Eb major". ValueError for another `each`."""
    if each not in EACH:
        raise ValueError(f"{each!r} is none of {', '.join(EACH)}")
    _, _, mode = key.partition(" ")
    names = {"drill": "", "mode": mode, "key": key, "rhythm": rhythm, "articulation": articulation}
    return names[each]
