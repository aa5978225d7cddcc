"""Items by group, as a player would sort them."""

from __future__ import annotations

import pytest

from droner.practice.ladder.groups import group_of

ITEM = ("Eb melodic minor", "long short", "all slurred")


@pytest.mark.parametrize(
    ("each", "group"),
    [
        ("drill", ""),
        ("mode", "melodic minor"),
        ("key", "Eb melodic minor"),
        ("rhythm", "long short"),
        ("articulation", "all slurred"),
    ],
)
def test_the_group_of_an_item(each: str, group: str) -> None:
    assert group_of(each, *ITEM) == group


@pytest.mark.parametrize("each", ["mode", "key"])
def test_without_a_key_there_is_one_group(each: str) -> None:
    assert group_of(each, "", "long short", "all slurred") == ""


def test_another_sort_of_group_is_refused() -> None:
    with pytest.raises(ValueError, match="none of drill, mode"):
        group_of("finger", *ITEM)
