"""Find the mistakes in session and pattern files.

Rule    what a file is, its keys say: those that stand at its top are counted, sessions' against patterns'. Where
        they do not decide, it is what lies in a folder `patterns`. Pattern files are read together, with those that
        lie beside them in such a folder, since a row may name a row of any of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

from droner.cli.reading import read_both
from droner.errors import Mistake, MistakesFound, nearest
from droner.practice.reading.files import OWN_FOLDER, file_text, patterns_folder
from droner.practice.reading.pattern_reading import read_patterns
from droner.practice.reading.pattern_table import SORTS
from droner.practice.reading.session_table import session_keys
from droner.practice.reading.toml_places import places

SESSION_KEYS = frozenset(field.key for table, field in session_keys() if not table)
PATTERN_KEYS = frozenset((*SORTS, "variant"))


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
    tops = {path[0] for path in places(file_text(file)) if path}
    keys = [key for top in tops if isinstance(top, str) for key in (_known(top),) if key]
    of_patterns = sum(key in PATTERN_KEYS for key in keys)
    of_session = len(keys) - of_patterns
    return file.resolve().parent.name == OWN_FOLDER if of_patterns == of_session else of_patterns > of_session


def _known(key: str) -> str:
    """The key that is meant, also by a slip of the hand."""
    known = SESSION_KEYS | PATTERN_KEYS
    return key if key in known else nearest(key, sorted(known))


def _mistakes_in_patterns(files: Iterable[Path]) -> tuple[Mistake, ...]:
    texts, mistakes = _texts(_together(files))
    try:
        read_patterns(texts)
    except MistakesFound as wrong:
        mistakes += wrong.mistakes
    return tuple(mistakes)


def _together(files: Iterable[Path]) -> dict[Path, str]:
    """The files to be read, each once, with the name to show: droner's, those beside, those asked for."""
    ours = patterns_folder()
    chosen = {file.resolve(): f"{OWN_FOLDER}/{file.name}" for file in sorted(ours.glob("*.toml"))}
    asked = list(files)
    for file in asked:
        folder = file.parent
        if folder.resolve().name == OWN_FOLDER and folder.resolve() != ours:
            chosen |= {beside.resolve(): str(beside) for beside in sorted(folder.glob("*.toml"))}
    return chosen | {file.resolve(): str(file) for file in asked}


def _texts(files: dict[Path, str]) -> tuple[list[tuple[str, str]], list[Mistake]]:
    """The name and text of each file, and the mistakes of those that are no text."""
    texts: list[tuple[str, str]] = []
    mistakes: list[Mistake] = []
    for file, shown in files.items():
        try:
            texts.append((shown, file_text(file, shown)))
        except MistakesFound as wrong:
            mistakes += wrong.mistakes
    return texts, mistakes
