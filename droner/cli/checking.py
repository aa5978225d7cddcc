"""Find the mistakes in session and pattern files.

Rule    what a file is, its keys say: those that stand at its top are counted, sessions' against patterns'. Where
        they do not decide, it is what lies in a folder `patterns`. Pattern files are read together, with those that
        lie beside them in such a folder, since a row may name a row of any of them. A named file is read once, so
        that it may be a pipe.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from droner.cli.reading import read_both
from droner.errors import Mistake, MistakesFound, nearest
from droner.practice.reading.files import (
    OWN_FOLDER,
    each_read_once,
    file_text,
    named_text,
    pattern_files,
    patterns_folder,
    real_path,
)
from droner.practice.reading.pattern_reading import read_patterns
from droner.practice.reading.pattern_table import SORTS
from droner.practice.reading.session_table import session_keys
from droner.practice.reading.toml_places import places

SESSION_KEYS = frozenset(field.key for table, field in session_keys() if not table)
PATTERN_KEYS = frozenset((*SORTS, "variant"))


@each_read_once()
def mistakes_in(files: Sequence[Path]) -> tuple[Mistake, ...]:
    """Every mistake in the files, each once; droner's own session for none."""
    found: dict[Mistake, None] = {}
    patterns: list[Path] = []
    for file in files or (None,):
        try:
            if file is not None and holds_patterns(file):
                patterns.append(file)
            else:
                read_both(file)
        except MistakesFound as wrong:
            found |= dict.fromkeys(wrong.mistakes)
    if patterns:
        found |= dict.fromkeys(_mistakes_in_patterns(patterns))
    return tuple(found)


def holds_patterns(file: Path) -> bool:
    """Whether a file is one of patterns. MistakesFound when it cannot be read."""
    tops = {path[0] for path in places(named_text(file)) if path}
    keys = [key for top in tops if isinstance(top, str) for key in (_known(top),) if key]
    of_patterns = sum(key in PATTERN_KEYS for key in keys)
    of_session = len(keys) - of_patterns
    return real_path(file).parent.name == OWN_FOLDER if of_patterns == of_session else of_patterns > of_session


def _known(key: str) -> str:
    """The key that is meant, also by a slip of the hand."""
    known = SESSION_KEYS | PATTERN_KEYS
    return key if key in known else nearest(key, sorted(known))


def _mistakes_in_patterns(files: Sequence[Path]) -> tuple[Mistake, ...]:
    texts, mistakes = _texts(_together(files), files)
    try:
        read_patterns(texts)
    except MistakesFound as wrong:
        mistakes += wrong.mistakes
    return tuple(mistakes)


def _together(asked: Sequence[Path]) -> dict[Path, str]:
    """The files to be read, each once, with the name to show: droner's, those beside, those asked for."""
    ours = patterns_folder()
    chosen = {real_path(file): (file, f"{OWN_FOLDER}/{file.name}") for file in pattern_files(ours)}
    for file in asked:
        folder = real_path(file.parent)
        if folder.name == OWN_FOLDER and folder != real_path(ours):
            chosen |= {real_path(beside): (beside, str(beside)) for beside in pattern_files(file.parent)}
    return dict((chosen | {real_path(file): (file, str(file)) for file in asked}).values())


def _texts(files: dict[Path, str], asked: Sequence[Path]) -> tuple[list[tuple[str, str]], list[Mistake]]:
    """The name and text of each file, and the mistakes of those that are no text."""
    texts: list[tuple[str, str]] = []
    mistakes: list[Mistake] = []
    for file, shown in files.items():
        try:
            texts.append((shown, named_text(file) if file in asked else file_text(file, shown)))
        except MistakesFound as wrong:
            mistakes += wrong.mistakes
    return texts, mistakes
