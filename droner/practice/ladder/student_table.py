"""List the 95 per cent points of Student's t: a range between their two signs holds 90 of 100 cases.

Units   degrees of freedom to standard deviations.
Source  W. S. Gosset's distribution; the points as in any table of it, from memory, and computed again in the tests.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

T_95: Mapping[int, float] = MappingProxyType(
    {
        7: 1.895,
        8: 1.860,
        9: 1.833,
        10: 1.812,
        11: 1.796,
    }
)
