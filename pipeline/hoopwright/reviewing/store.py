"""The answers file on disk: read, change one thing, write all of it at once; comments stay, two processes lose nothing."""

from __future__ import annotations

import io
import os
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.comments import CommentedMap, CommentedSeq
from ruamel.yaml.error import MarkedYAMLError, YAMLError

from hoopwright.reviewing.answers import FORM, Answer, Answers, AnswersError, Correction, Reader, answer_entry, correction_entry
from hoopwright.reviewing.keys import identity

LARGEST = 4_000_000  # bytes; some ten thousand answers
PATIENCE = 10.0  # seconds that a second process waits for the first
_HEADER = (
    "Answers to what the manual leaves open, and the user's own corrections. hoopwright reads and writes this file;\n"
    "edit it as you like: comments stay. An answer needs its sentence, what was asked, and a choice or a value."
)

Change = Callable[[Any], None]


@dataclass(frozen=True, slots=True)
class _Known:
    """What this process last read or wrote: reading YAML takes most of the time of a save, and the same text gives the same data."""

    text: str
    data: Any
    answers: Answers


_known: dict[Path, _Known] = {}


def load(path: Path) -> Answers:
    """The answers in a file; none where there is no such file. Raises AnswersError with the line for a broken one."""
    text = _text_of(path)
    known = _known.get(path)
    return known.answers if known is not None and known.text == text else _parsed(path, text)[1]


def change(path: Path, *changes: Change) -> Answers:
    """Carry out ``changes`` on what stands in the file now, write it, and give back all that then stands in it.

    The new text is on the disk under the file's name, whole, or the old one still is. Raises AnswersError; then nothing was changed.
    """
    with _alone(path):
        text = _text_of(path)
        known = _known.pop(path, None)  # not known again before the change is on the disk
        data, before = (known.data, known.answers) if known is not None and known.text == text else _parsed(path, text)
        comments = text if data is None and text.strip() else ""
        if data is None:
            data = CommentedMap({"form": FORM})
            if not comments:
                data.yaml_set_start_comment(_HEADER)
        for each in changes:
            each(data)
        stream = io.StringIO()
        round_trip().dump(data, stream)
        answers = Reader(path).read(data)
        new = comments + ("\n" if comments and not comments.endswith("\n") else "") + stream.getvalue()
        new += "".join(f"{line}\n" for line in _comments(text) if line not in new)  # those of an entry that was taken out
        _must_come_back(path, new, answers, before)
        _write(path, new)
        if new == stream.getvalue():  # else there is more in the text than in the data
            _known[path] = _Known(new, data, answers)
        return answers


def _comments(text: str) -> list[str]:
    """The lines that are comments and nothing else."""
    return [line.strip() for line in text.splitlines() if line.lstrip().startswith("#")]


def _must_come_back(path: Path, new: str, answers: Answers, before: Answers) -> None:
    """Never write what could not be read back. Only where comments or a removal could get in the way: reading takes most of a save."""
    body = new.split("\n", _HEADER.count("\n") + 1)[-1]
    fewer = any(len(getattr(answers, name)) < len(getattr(before, name)) for name in ("answers", "corrections", "extras"))
    if "#" not in body and not fewer:
        return
    try:
        found = _parsed(path, new)[1]
    except AnswersError:
        found = None
    if found != answers:
        problem = "a comment in it stands where it cannot be kept, and the answer was not saved"
        raise AnswersError(problem, "move each comment onto a line of its own above an entry, then answer again", file=path)


def setting(answer: Answer) -> Change:
    """The change that files an answer; one for the same question is replaced, its comments and own note kept."""

    def carry_out(data: Any) -> None:
        entries = _sequence(data, "answers")
        index = _index_of(entries, answer)
        new = answer_entry(answer)
        if index is None:
            entries.append(CommentedMap(new))
            return
        old = entries[index]
        for name in ("choice", "value", "question"):
            if name not in new and name in old:
                del old[name]
        for name, value in new.items():
            if name not in ("sentence", "asked"):
                old[name] = value

    return carry_out


def withdrawing(answer: Answer) -> Change:
    """The change that takes an answer out again; nothing happens if it is not there."""

    def carry_out(data: Any) -> None:
        entries = _sequence(data, "answers")
        index = _index_of(entries, answer)
        if index is not None:
            _without(data, "answers", index)

    return carry_out


def correcting(correction: Correction) -> Change:
    """The change that files a correction; the same one is filed once."""

    def carry_out(data: Any) -> None:
        entries = _sequence(data, "corrections")
        if correction_entry(correction) not in [dict(entry) for entry in entries]:
            entries.append(CommentedMap(correction_entry(correction)))

    return carry_out


def uncorrecting(correction: Correction) -> Change:
    """The change that takes a correction out again."""

    def carry_out(data: Any) -> None:
        entries = _sequence(data, "corrections")
        wanted = {name: str(value) for name, value in correction_entry(correction).items()}
        for index, entry in enumerate(entries):
            if {name: str(value) for name, value in entry.items()} == wanted:
                _without(data, "corrections", index)
                return

    return carry_out


def buying(extra: str, bought: bool | None) -> Change:
    """The change that says whether an optional extra was bought; None: nothing is said of it."""

    def carry_out(data: Any) -> None:
        if data.get("extras") is None:
            data["extras"] = CommentedMap()
        if bought is None:
            data["extras"].pop(extra, None)
            if not data["extras"]:
                del data["extras"]
        else:
            data["extras"][extra] = "bought" if bought else "not bought"

    return carry_out


def _without(data: Any, name: str, index: int) -> None:
    """Take an entry out. An emptied list goes too: with a comment before it, it could not be written so that it can be read."""
    del data[name][index]
    if not data[name]:
        del data[name]


def _sequence(data: Any, name: str) -> Any:
    if data.get(name) is None:
        data[name] = CommentedSeq()
    return data[name]


def _index_of(entries: Any, answer: Answer) -> int | None:
    mine = (*identity(answer.sentence, answer.about, answer.fitting), answer.under, answer.place)
    for index, entry in enumerate(entries):
        asked = entry["asked"]
        fitting = None if asked.get("fitting") is None else str(asked["fitting"])
        theirs = identity(" ".join(str(entry["sentence"]).split()), str(asked["about"]), fitting)
        if (*theirs, " ".join(str(entry.get("under") or "").split()), int(entry.get("place") or 0)) == mine:
            return index
    return None


def round_trip() -> YAML:
    """YAML that keeps comments, order and quotes."""
    yaml = YAML()  # round trip: comments, order and quotes stay
    yaml.width = 110
    yaml.allow_unicode = True
    yaml.preserve_quotes = True
    yaml.indent(mapping=2, sequence=4, offset=2)
    return yaml


def _text_of(path: Path) -> str:
    try:
        if path.stat().st_size > LARGEST:
            raise AnswersError(f"larger than {LARGEST // 1_000_000} MB", "this is no answers file: move it away", file=path)
        return path.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        return ""
    except UnicodeDecodeError:
        raise AnswersError("it is not UTF-8 text", "save it as UTF-8; the file is left as it is", file=path) from None
    except OSError as error:
        raise AnswersError(f"it cannot be read ({error.strerror})", "mend that, or name another file with --answers", file=path) from None


def _parsed(path: Path, text: str) -> tuple[Any, Answers]:
    try:
        data = round_trip().load(text)
    except MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        where = f"line {mark.line + 1}: " if mark is not None else ""
        what = " ".join(str(error.problem or error.context or "it is no YAML").split())
        raise AnswersError(f"{where}not readable as YAML ({what})", "mend that line; the file is left as it is", file=path) from None
    except (YAMLError, ValueError, RecursionError) as error:
        problem = f"not readable as YAML ({' '.join(str(error).split())[:120]})"
        raise AnswersError(problem, "mend it; the file is left as it is", file=path) from None
    return data, Reader(path).read(data)


def _write(path: Path, text: str) -> None:
    """Write beside the file, flush to the disk, rename over it: at no time is there half a file under its name."""
    target = path.resolve() if path.is_symlink() else path
    aside: str | None = None
    try:
        handle, aside = tempfile.mkstemp(prefix=f".{target.name}.", suffix=".tmp", dir=target.parent)
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        mode = target.stat().st_mode & 0o777 if target.exists() else 0o666 & ~_umask()
        Path(aside).chmod(mode)
        Path(aside).replace(target)
        aside = None
        _sync_folder(target.parent)
    except OSError as error:
        remedy = "the answer was not saved; free the disk or the folder, or name another file with --answers"
        raise AnswersError(f"it cannot be written ({error.strerror or error})", remedy, file=path) from None
    finally:
        if aside is not None:
            with suppress(OSError):
                Path(aside).unlink()


def _umask() -> int:
    mask = os.umask(0o022)
    os.umask(mask)
    return mask


def _sync_folder(folder: Path) -> None:
    """A rename is safe on the disk once its folder is; some systems cannot do that for a folder."""
    if sys.platform == "win32":
        return
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


@contextmanager
def _alone(path: Path) -> Iterator[None]:
    """Hold off every other hoopwright that wants to change the file. The lock is the system's: a killed process leaves none behind."""
    lock = path.with_name(f".{path.name}.lock")
    try:
        handle = os.open(lock, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o666)
    except OSError as error:
        remedy = "the answer was not saved; make the folder writable, or name another file with --answers"
        raise AnswersError(f"it cannot be written ({error.strerror})", remedy, file=path) from None
    try:
        until = time.monotonic() + PATIENCE
        while not _locked(handle):
            if time.monotonic() > until:
                raise AnswersError("another hoopwright is writing it", "close that one, then answer again", file=path)
            time.sleep(0.02)
        yield
    finally:
        # The file stays: removing it would let two processes lock two files of one name.
        os.close(handle)


def _locked(handle: int) -> bool:
    try:
        if sys.platform == "win32":
            import msvcrt

            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True
