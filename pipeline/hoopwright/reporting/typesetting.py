"""Run as a program of its own: ``typesetting.py TEMPLATE OUTPUT`` reads the sheets' data (JSON) from standard input and writes the PDF.

Typst keeps all of its work in memory until its process ends, some 2 MiB a page. So that what has to stay does not pay for it, and so that
the other reports are made meanwhile, it gets a process that has nothing else; ``hoopwright.reporting.sheets`` starts it.

Ends with 0 when OUTPUT is written, or with ``REFUSED`` and Typst's words on standard error.
"""

from __future__ import annotations

import io
import sys
from pathlib import Path

REFUSED = 3


def typeset(template: bytes, data: str) -> bytes:
    """The PDF (PDF/UA-1, fonts embedded). Raises typst.TypstError."""
    import typst

    return _packed(typst.compile(template, ignore_system_fonts=True, pdf_standards=["ua-1"], sys_inputs={"data": data}))


def _packed(data: bytes) -> bytes:
    """The same PDF with its many small objects, the tags for screen readers, compressed as well: less than a third of the size."""
    import pikepdf

    output = io.BytesIO()
    with pikepdf.open(io.BytesIO(data)) as pdf:
        pdf.save(output, object_stream_mode=pikepdf.ObjectStreamMode.generate, deterministic_id=True)
    return output.getvalue()


def main() -> int:
    """The program."""
    import typst

    template, output = map(Path, sys.argv[1:])
    data = sys.stdin.buffer.read().decode("utf-8")
    try:
        output.write_bytes(typeset(template.read_bytes(), data))
    except typst.TypstError as error:
        print(error, file=sys.stderr)
        return REFUSED
    return 0


if __name__ == "__main__":
    sys.exit(main())
