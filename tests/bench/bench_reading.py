"""Speed and accuracy of the reading room: ``python tests/bench/bench_reading.py [pages]``.

Text layer: pages in two columns, ours against bare pdfplumber word extraction of the same file, in turn, median of three; the bar is a
fifth of pdfplumber's time. Scans: the same text as pictures at 200 dpi, seconds a page on all cores and words in order against the
text layer.
"""

from __future__ import annotations

import io
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import pdfplumber
import pypdfium2
from hoopwright.reading import read_document, tesseract
from reading.measures import f1, words_of
from reading.sheets import HEAD, HEADED, pdf, prose

SCANNED = 6


def two_column_pages(count: int) -> bytes:
    """``count`` pages of running text in two columns, a ruled table on every tenth."""
    cells = ", ".join(f"[{cell}]" for row in HEADED for cell in row)
    table = f"#table(columns: 3, {cells})"
    pages = [f"= Step {n}\n{table if n % 10 == 3 else ''}\n{prose(13, n)}\n#pagebreak(weak: true)" for n in range(1, count + 1)]
    return pdf(HEAD + "#set page(columns: 2)\n#set text(size: 9pt)\n" + "\n".join(pages))


def seconds(call: Callable[[], object]) -> float:
    """How long the call takes."""
    begun = time.perf_counter()
    call()
    return time.perf_counter() - begun


def by_pdfplumber(path: Path) -> int:
    """The number of words that pdfplumber finds."""
    with pdfplumber.open(path) as document:
        found = 0
        for page in document.pages:
            found += len(page.extract_words())
            page.close()
    return found


def main(count: int = 100) -> None:
    """Prints the figures."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "text.pdf"
        path.write_bytes(two_column_pages(count))
        pages = len(pypdfium2.PdfDocument(path))
        read_document(path, "D1")  # imports are not counted
        ours, theirs = [], []
        for _ in range(3):
            ours.append(seconds(lambda: read_document(path, "D1")))
            theirs.append(seconds(lambda: by_pdfplumber(path)))
        a, b = statistics.median(ours), statistics.median(theirs)
        words = len(read_document(path, "D1").text.split())
        print(f"text layer, {pages} pages, {words} words: {a:.2f} s, pdfplumber {b:.2f} s, ratio {a / b:.3f}")
        if not tesseract.is_installed():
            print("tesseract is not installed: no scans measured")
            return
        scan = Path(folder) / "scan.pdf"
        with pypdfium2.PdfDocument(path) as document:
            images = [document[i].render(scale=200 / 72, grayscale=True).to_pil() for i in range(min(SCANNED, pages))]
        buffer = io.BytesIO()
        images[0].save(buffer, "PDF", resolution=200, save_all=True, append_images=images[1:])
        scan.write_bytes(buffer.getvalue())
        taken = seconds(lambda: read_document(scan, "D1"))
        truth = [line.text for line in read_document(path, "D1").lines if line.page <= len(images)]
        agreed = f1(words_of("\n".join(truth)), words_of(read_document(scan, "D1").text))
        print(f"scans, {len(images)} pages: {taken / len(images):.2f} s a page, words in order F1 {agreed:.4f}")


if __name__ == "__main__":
    main(*(int(argument) for argument in sys.argv[1:2]))
