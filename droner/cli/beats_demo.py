"""Write the sound files in which beats are heard: one for each note, named and tagged in the order of the page.

Rule    what to expect is said in the tags: beats a second, or that there are none to hear. The drone's brightest usual
        timbre is taken, since beats are made by its upper partials.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from droner.cli.form_table import SUFFIXES
from droner.cli.jobs import Job, job_of
from droner.cli.screen import tell
from droner.cli.tracks import safe_name
from droner.cli.writing import folder_for_files, stoppable, tell_of_others, write_all
from droner.score.beat_demo import OFF_CENTS, beat_demo, can_beat, pair_name, rates
from droner.sound.mix import Mix
from droner.sound.tags import Tags
from droner.sound.timbre_table import TIMBRES

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from droner.theory.beats import DegreeBeats
    from droner.theory.tuning import Tuning

TIMBRE = "bright"
PARTIALS_DB = TIMBRES[TIMBRE].partials_db


def write_demo(
    folder: Path, forms: Sequence[str], rows: Sequence[DegreeBeats], tuned: Tuning, *, quiet: bool
) -> list[dict[str, Any]]:
    """Write the files; give each as data."""
    jobs, told = list[Job](), list[dict[str, Any]]()
    for number, row in enumerate(rows, 1):
        score, tags = beat_demo(row, tuned, PARTIALS_DB), _tags(row, number, len(rows))
        for form in forms:
            path = folder / (safe_name(f"{number:02} {pair_name(row)}") + SUFFIXES[form])
            jobs.append(job_of(path, form, score, score, Mix(timbre=TIMBRE), tags))
            told.append(_data(row, path, form, tags, float(score.duration)))
    with stoppable(), folder_for_files(folder):
        write_all(jobs, quiet=quiet)
    tell(
        f"each file: the drone, then your note in tune, {OFF_CENTS} cents flat and {OFF_CENTS} cents sharp", quiet=quiet
    )
    tell_of_others(folder, {job.path for job in jobs}, quiet=quiet)
    return told


def _data(row: DegreeBeats, path: Path, form: str, tags: Tags, seconds: float) -> dict[str, Any]:
    in_tune, flat, sharp = rates(row)
    return {
        "path": str(path),
        "form": form,
        "title": tags.title,
        "number": tags.track,
        "seconds": seconds,
        "note": str(row.note),
        "beats_in_tune": in_tune,
        "beats_flat": flat,
        "beats_sharp": sharp,
        "can_beat": can_beat(row, PARTIALS_DB),
    }


def _tags(row: DegreeBeats, number: int, total: int) -> Tags:
    name = pair_name(row)
    _, flat, sharp = (shown_rate(rate) for rate in rates(row))
    either = flat if flat == sharp else f"{flat} and {sharp}"
    partials = f"partial {row.drone_partial} of the drone, {row.player_partial} of yours"
    if can_beat(row, PARTIALS_DB):
        title = f"{name}: {either} beats a second {OFF_CENTS} cents off"
        comment = f"In tune it is still; {OFF_CENTS} cents flat {flat}, sharp {sharp} beats a second ({partials})."
    else:
        title = f"{name}: no beats to hear"
        comment = f"The partials that meet lie too high to be heard ({partials})."
    return Tags(title, f"Beats against {row.drone}", number, total, "droner", comment)


def shown_rate(rate_hz: float) -> str:
    """A rate as it can be counted: "2.1", below one a second "0.42"."""
    return f"{rate_hz:.2f}" if rate_hz < 1 else f"{rate_hz:.1f}"
