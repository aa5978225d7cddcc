"""List the partners that a drone can play, and what the player can do about them.

Rule    a partner strays from true pitch as a player does who does not listen: with the own loudness, with the warmth of
        the room, with the tiredness of the lip. By how many cents is the player's choice: that instruments go sharp or
        flat is published, but no trustworthy size is known for any player, and none is claimed here.
Units   cents; shares of the partner's cents.
Source  flutes and brass go sharp when louder and flat when softer, reeds the opposite: published as directions, without
        sizes. A warming room raises wind instruments (speed of sound: 2.95 cents a degree C at 20 degrees). That a
        tired player sinks: common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

LEAST_CENTS, USUAL_CENTS, MOST_CENTS = 0, 5, 50
"""Start with 5; 20 is hard. Our choice."""
SWELL_DB = 6.0
"""A partner that follows its own loudness swells by so much above its level and sinks by so much below. Our choice:
12 decibels are about what a player makes of a swell from piano to forte; common practice, no source."""


@dataclass(frozen=True, slots=True)
class PartnerKind:
    """One kind of partner.

    `loud` is where it stands at its loudest, `late` at the end of the item: 1 for sharp by all its cents, -1 for flat.
    `words` go on from "your partner".
    """

    name: str
    loud: int
    late: int
    words: str


@dataclass(frozen=True, slots=True)
class Role:
    """One task of the player: to go where the partner goes by `share` of its cents."""

    name: str
    share: Fraction
    words: str


KINDS: tuple[PartnerKind, ...] = (
    PartnerKind("reed-like", -1, 0, "is reed-like, sharp when soft and flat when loud"),
    PartnerKind("flute-like", 1, 0, "is flute-like, flat when soft and sharp when loud"),
    PartnerKind("warming room", 0, 1, "plays in a warming room and slowly rises"),
    PartnerKind("tired low", 0, -1, "is tired and slowly sinks"),
)
ROLES: tuple[Role, ...] = (
    Role("follow", Fraction(1), "follow it, so that nothing beats"),
    Role("hold", Fraction(0), "hold the pitch that it began on, and let it beat"),
    Role("meet half-way", Fraction(1, 2), "meet it half-way"),
)
KIND_BY_NAME = {kind.name: kind for kind in KINDS}
ROLE_BY_NAME = {role.name: role for role in ROLES}
FOLLOW, HOLD = ROLES[0].name, ROLES[1].name
