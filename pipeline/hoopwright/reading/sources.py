"""The files that are given: folders opened up, sizes checked, and what each file is, told by its first bytes and not by its name."""

from __future__ import annotations

import hashlib
import re
import stat
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from hoopwright.model.errors import UnreadableDocument
from hoopwright.reading.limits import MAX_BYTES

FileKind = Literal["pdf", "image", "text"]

ORDER_FILE = "order"
_SAVE_AS = "save it as PDF or plain text and give that"
_PDF_HEAD_WINDOW = 1024  # ISO 32000-1, annex H, note 13: readers take a header within the first 1024 bytes

# First bytes of what is no manual but is often in the bag, with what to do about it. Signatures: the formats' public specifications.
_FOREIGN: tuple[tuple[bytes, str, str], ...] = (
    (b"PK\x03\x04", "it is a zip archive, or an office file", "unpack it, or save it as PDF or plain text"),
    (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "it is an old office file", _SAVE_AS),
    (b"{\\rtf", "it is a rich text file", _SAVE_AS),
    (b"%!PS", "it is a PostScript file", "turn it into PDF and give that"),
    (b"\x1f\x8b", "it is packed with gzip", "unpack it and give the file inside"),
    (b"7z\xbc\xaf\x27\x1c", "it is a 7z archive", "unpack it and give the file inside"),
    (b"Rar!\x1a\x07", "it is a rar archive", "unpack it and give the file inside"),
    (b"GIF8", "it is a GIF picture", "save it as PNG or JPEG and give that"),
    (b"\x7fELF", "it is a program", "give the manual as PDF, text or picture"),
    (b"MZ\x90\x00", "it is a program", "give the manual as PDF, text or picture"),
)
_IMAGES = (b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff", b"II*\x00", b"MM\x00*", b"II+\x00", b"MM\x00+")


@dataclass(frozen=True, slots=True)
class Source:
    """A file in memory with its kind and the SHA-256 of its bytes."""

    path: Path
    kind: FileKind
    data: bytes
    sha256: str


def expand(paths: Iterable[Path]) -> list[Path]:
    """The files meant by ``paths``: a folder stands for the files that its ``order`` file names, one a line, in that order.

    Raises UnreadableDocument for a folder without an ``order`` file or with one that names what is not there.
    """
    found: list[Path] = []
    for path in paths:
        found.extend(_in_order(path) if _is_dir(path) else [path])
    return found


def load(path: Path) -> Source:
    """The file's bytes, once they are known to be something that is read. Raises UnreadableDocument."""
    data = _bytes(path)
    return Source(path, _kind(path, data), data, hashlib.sha256(data).hexdigest())


def _is_dir(path: Path) -> bool:
    try:
        return path.is_dir()
    except (OSError, ValueError):  # a name too long, or with a NUL in it; opening it gives the message
        return False


def _in_order(folder: Path) -> list[Path]:
    listing = folder / ORDER_FILE
    if not listing.is_file():
        remedy = f"give the files themselves in order, or put a file named '{ORDER_FILE}' into the folder with one file name a line"
        raise UnreadableDocument("it is a folder", remedy, file=folder)
    remedy = "write one name a line of a file in the same folder"
    try:
        names = [name for line in listing.read_text("utf-8-sig").splitlines() if (name := line.strip())]
    except (OSError, UnicodeDecodeError) as error:
        raise UnreadableDocument("the list of files cannot be read", "save it as UTF-8 text, one file name a line", file=listing) from error
    if not names:
        raise UnreadableDocument("the list of files is empty", remedy, file=listing)
    for number, name in enumerate(names, start=1):
        # Only names: a list that came with a downloaded folder must not reach outside of it.
        if Path(name).name != name or "\x00" in name or not (folder / name).is_file():
            raise UnreadableDocument(f"entry {number} names '{name[:200]}', which is no file of this folder", remedy, file=listing)
    return [folder / name for name in names]


def _bytes(path: Path) -> bytes:
    try:
        if path.is_dir():
            raise UnreadableDocument("it is a folder", "give the files in it", file=path)
        status = path.stat()
        if not stat.S_ISREG(status.st_mode):  # a pipe may never end, or never begin
            raise UnreadableDocument("it is no ordinary file", "save it to a file and give that", file=path)
        if status.st_size > MAX_BYTES:
            problem = f"it is {status.st_size / 1024**2:,.0f} MB, more than the limit of {MAX_BYTES // 1024**2} MB"
            raise UnreadableDocument(problem, "split it, or save it with smaller pictures", file=path)
        with path.open("rb") as file:  # one byte past the limit, for the file may be growing
            data = file.read(MAX_BYTES + 1)
    except FileNotFoundError as error:
        raise UnreadableDocument("there is no such file", "check the name and the folder", file=path) from error
    except PermissionError as error:
        raise UnreadableDocument("it may not be read", "change its permissions, or copy it to a folder of your own", file=path) from error
    except (OSError, ValueError) as error:
        raise UnreadableDocument(f"it cannot be opened ({_reason(error)})", "check the name and the disk", file=path) from error
    if len(data) > MAX_BYTES:
        raise UnreadableDocument(f"it is larger than {MAX_BYTES // 1024**2} MB", "split it", file=path)
    if not data.strip(b" \t\r\n\x0c\x00\xef\xbb\xbf\xff\xfe"):
        raise UnreadableDocument("it is empty", "give a file with the manual's text in it", file=path)
    return data


def _reason(error: Exception) -> str:
    return getattr(error, "strerror", None) or str(error)


def _kind(path: Path, data: bytes) -> FileKind:
    if re.search(rb"%PDF-\d", data[:_PDF_HEAD_WINDOW]):
        return "pdf"
    if data.startswith(_IMAGES) or (data[:4] == b"RIFF" and data[8:12] == b"WEBP"):
        return "image"
    if data[4:8] == b"ftyp":
        brand = "a HEIC or AVIF photo" if data[8:12] in (b"heic", b"heix", b"mif1", b"msf1", b"avif") else "a film or sound file"
        raise UnreadableDocument(f"it is {brand}", "save it as JPEG or PNG and give that", file=path)
    for head, problem, remedy in _FOREIGN:
        if data.startswith(head):
            raise UnreadableDocument(problem, remedy, file=path)
    return "text"
