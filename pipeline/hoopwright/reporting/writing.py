"""All files of a run are made aside and then moved into place, so that nothing half-written is ever left behind."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Collection, Iterator, Sequence
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

from hoopwright.model.errors import OutputError, UsageError
from hoopwright.model.schedule import Schedule
from hoopwright.reporting.lengths import Units
from hoopwright.reporting.makers import DEFAULT, MAKERS, Job, Paper


def write_outputs(
    schedule: Schedule,
    folder: Path,
    *,
    units: Units = "metric",
    only: Collection[str] | None = None,
    sources: Sequence[Path] = (),
    paper: Paper | None = None,
    share_sheets: bool = False,
) -> list[Path]:
    """Write the reports of ``schedule`` into ``folder`` (made if it is not there) and return their paths, ``schedule.json`` first.

    ``only`` chooses from ``MAKERS`` (``DEFAULT`` where it is None); ``schedule.json`` is written whatever is chosen. ``sources`` are the
    user's files, in the order of ``schedule.documents``; the marked manual needs them. ``paper`` follows ``units`` where it is None.
    ``share_sheets``: hoops that are dressed alike share a printed sheet.

    Either every file is in place at the end, or the folder is as it was before. Raises UsageError for an unknown choice, or for a marked
    manual without its files, and OutputError where the folder cannot be written.
    """
    chosen = DEFAULT if only is None else tuple(only)
    _check_choice(chosen, sources, asked=only is not None)
    job = Job(schedule, units, paper or ("a4" if units == "metric" else "us-letter"), share_sheets, tuple(sources))
    with _output_errors(folder), _aside(folder) as aside:
        _make([name for name in MAKERS if name == "json" or name in chosen], job, aside)
        return _move_in(aside, folder)


def _make(names: Sequence[str], job: Job, folder: Path) -> None:
    """Make the reports; what takes longest is begun first, in a process of its own, and waited for last."""
    with ExitStack() as stack:
        begun = []
        for name in sorted(names, key=lambda name: name != "sheets"):
            under_way = MAKERS[name](job, folder)
            if under_way is not None:
                stack.callback(under_way.stop)
                begun.append(under_way)
        for under_way in begun:
            under_way.wait()


def _check_choice(chosen: Collection[str], sources: Sequence[Path], asked: bool) -> None:
    for name in chosen:
        if name not in MAKERS:
            raise UsageError(f"there is no report called “{name}”", f"choose from {', '.join(MAKERS)}")
    if asked and "marked" in chosen and not sources:
        raise UsageError("the marked manual needs the manual's own files", "name them, or leave “marked” out")


@contextmanager
def _output_errors(folder: Path) -> Iterator[None]:
    """Turn what the file system says into one line with a remedy."""
    try:
        yield
    except PermissionError as error:
        raise OutputError("the results cannot be written there", "choose another folder, or allow writing to it", file=folder) from error
    except (FileExistsError, IsADirectoryError, NotADirectoryError) as error:
        where = error.filename2 or error.filename or folder
        raise OutputError("something else of that name is in the way", "move it, or choose another folder", file=where) from error
    except OSError as error:
        reason = (error.strerror or "unknown fault").lower()
        raise OutputError(f"the results cannot be written ({reason})", "free some space, or choose another folder", file=folder) from error


@contextmanager
def _aside(folder: Path) -> Iterator[Path]:
    """A temporary folder beside ``folder`` (a rename must stay on one disk), gone at the end; ``folder`` too if this made it in vain."""
    if folder.exists() and not folder.is_dir():
        raise FileExistsError(None, None, str(folder))
    missing = [path for path in (folder, *folder.parents) if not path.exists()]
    folder.mkdir(parents=True, exist_ok=True)
    aside = None
    try:
        aside = Path(tempfile.mkdtemp(prefix=".hoopwright-", dir=folder.parent))
        yield aside
    except BaseException:
        for path in missing:
            with suppress(OSError):
                path.rmdir()
        raise
    finally:
        if aside is not None:
            shutil.rmtree(aside, ignore_errors=True)


def _move_in(aside: Path, folder: Path) -> list[Path]:
    """Move every file of ``aside`` to its place; on a failure put back what was there before."""
    files = [path.relative_to(aside) for path in sorted(aside.rglob("*")) if path.is_file()]
    files.sort(key=lambda path: (path != Path("schedule.json"), path))
    kept = aside / ".before"
    done: list[Path] = []
    made: list[Path] = []
    try:
        for name in files:
            target = folder / name
            if target.is_dir():
                raise IsADirectoryError(None, None, str(target))
            if not target.parent.exists():
                target.parent.mkdir()
                made.append(target.parent)
            if target.exists():
                _keep(target, kept / name)
            (aside / name).replace(target)
            done.append(name)
    except BaseException:
        _put_back(folder, kept, done, made)
        raise
    return [folder / name for name in files]


def _keep(target: Path, backup: Path) -> None:
    """A second name for the file that is about to be replaced; a copy where the disk knows no second names."""
    backup.parent.mkdir(parents=True, exist_ok=True)
    try:
        os.link(target, backup)
    except OSError:
        shutil.copy2(target, backup)


def _put_back(folder: Path, kept: Path, done: list[Path], made: list[Path]) -> None:
    for name in done:
        with suppress(OSError):
            if (kept / name).exists():
                (kept / name).replace(folder / name)
            else:
                (folder / name).unlink()
    for path in made:
        with suppress(OSError):
            path.rmdir()
