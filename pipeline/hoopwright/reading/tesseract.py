"""The text recogniser tesseract, run as a program of its own: one process a page, one thread a process."""

from __future__ import annotations

import os
import shutil
import subprocess
import threading
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hoopwright.reading.tesseract_error import RecogniserError

Gray = NDArray[np.uint8]

PROGRAM = "tesseract"
INSTALL = "install it (Debian, Ubuntu: apt install tesseract-ocr; macOS: brew install tesseract) or give a file with a text layer"
_LANGUAGE = "eng"
_SECONDS = 180.0  # for one page; a clean one takes one or two


@dataclass(frozen=True, slots=True)
class Found:
    """A word in a picture: its text, box in pixels, confidence 0..1, and the number of its line."""

    text: str
    left: float
    top: float
    right: float
    bottom: float
    confidence: float
    line: int
    bold: bool = False


def is_installed() -> bool:
    """Whether the program is there to be run."""
    return shutil.which(PROGRAM) is not None


class Recogniser:
    """Runs tesseract for several threads and stops every run when it is closed, as after Ctrl-C."""

    def __init__(self) -> None:
        self._running: set[subprocess.Popen[bytes]] = set()
        self._lock = threading.Lock()
        self._closed = False

    def close(self) -> None:
        """Stops what runs; calls that wait for it raise RecogniserError."""
        with self._lock:
            self._closed = True
            for process in self._running:
                process.kill()

    def words(self, picture: Gray, dpi: int, *, one_block: bool = False) -> list[Found]:
        """The words in a grey picture with dark text on a light ground, a page or one block of lines. Raises RecogniserError."""
        output = self._run(picture, ["--dpi", str(dpi), "--psm", "6" if one_block else "3", "-l", _LANGUAGE, "tsv"])
        return _parsed(output)

    def quarters(self, picture: Gray, dpi: int) -> int:
        """How many quarter turns anticlockwise set the picture upright, 0 if that cannot be told. Raises RecogniserError."""
        try:
            output = self._run(picture, ["--dpi", str(dpi), "--psm", "0"])
        except RecogniserError:
            return 0  # too few characters, or the data for it are not installed
        for line in output.splitlines():
            if line.startswith("Orientation in degrees:"):
                return int(line.split(":")[1]) // 90 % 4
        return 0

    def figures(self, picture: Gray) -> str:
        """The figures in a picture of one line that holds nothing else. Raises RecogniserError."""
        return self._run(picture, ["--dpi", "300", "--psm", "7", "-l", _LANGUAGE, "-c", "tessedit_char_whitelist=0123456789"])

    def _run(self, picture: Gray, options: list[str]) -> str:
        data = b"P5 %d %d 255\n" % (picture.shape[1], picture.shape[0]) + np.ascontiguousarray(picture).tobytes()
        process = self._start([PROGRAM, "stdin", "stdout", *options])
        try:
            output, errors = process.communicate(data, timeout=_SECONDS)
        except subprocess.TimeoutExpired as error:
            raise RecogniserError("reading the picture took too long", "give a cleaner or smaller scan of it") from error
        finally:
            process.kill()
            process.wait()
            with self._lock:
                self._running.discard(process)
        if process.returncode != 0:
            raise _failure(errors.decode("utf-8", "replace"))
        return output.decode("utf-8", "replace")

    def _start(self, command: list[str]) -> subprocess.Popen[bytes]:
        pipes: dict[str, Any] = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
        # More threads a page make it slower: 7 s instead of 1 s on two cores. Pages are read side by side instead.
        environment = {**os.environ, "OMP_THREAD_LIMIT": "1"}
        with self._lock:
            if self._closed:
                raise RecogniserError("reading was stopped", "start it again")
            try:
                process = subprocess.Popen(command, env=environment, **pipes)
            except OSError as error:
                raise RecogniserError("it holds pictures of text, and the text recogniser tesseract is not installed", INSTALL) from error
            self._running.add(process)
        return process


def _failure(errors: str) -> RecogniserError:
    if "traineddata" in errors:
        remedy = f"install it (Debian, Ubuntu: apt install tesseract-ocr-{_LANGUAGE})"
        return RecogniserError(f"the text recogniser tesseract has no data for English ('{_LANGUAGE}')", remedy)
    return RecogniserError("the text recogniser tesseract failed on it", "give a cleaner scan, or a file with a text layer")


def _parsed(table: str) -> list[Found]:
    """The words of tesseract's table: level, page, block, paragraph, line, word, left, top, width, height, confidence, text."""
    words: list[Found] = []
    lines: dict[tuple[str, ...], int] = {}
    for row in table.splitlines()[1:]:
        fields = row.split("\t")
        if len(fields) != 12 or fields[0] != "5" or not fields[11].strip():
            continue
        left, top, width, height = (float(field) for field in fields[6:10])
        line = lines.setdefault(tuple(fields[1:5]), len(lines))
        confidence = min(max(float(fields[10]) / 100, 0.0), 1.0)
        words.append(Found(fields[11].strip(), left, top, left + width, top + height, confidence, line))
    return words
