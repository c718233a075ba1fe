"""Photos and scans given as picture files: PNG, JPEG, TIFF (one page or many), WebP."""

from __future__ import annotations

import io
import warnings
from collections.abc import Callable, Iterator
from concurrent.futures import Future

import numpy as np
from PIL import Image, ImageOps, UnidentifiedImageError

from hoopwright.model.document import Document
from hoopwright.model.errors import UnreadableDocument
from hoopwright.reading.ahead import in_order
from hoopwright.reading.assemble import assemble
from hoopwright.reading.content import PageContent
from hoopwright.reading.limits import MAX_PAGES, MAX_PIXELS
from hoopwright.reading.scan import Picture, ScanReader
from hoopwright.reading.sources import Source
from hoopwright.reading.tesseract_error import RecogniserError

_FORMATS = ("PNG", "JPEG", "TIFF", "WEBP")
_LONG_SIDE = 842.0  # points: A4 (ISO 216). What a picture without a resolution of its own is taken for
_READ_DPI = (150, 300)  # the recogniser does best with type of these resolutions
_TOLD_DPI = (100, 1200)  # resolutions that a file may tell truly; cameras write 72
_REMEDY = "save it again as PNG or JPEG, or take another photo"


def read_image(source: Source, id: str, progress: Callable[[str], None] | None = None) -> Document:
    """The document in a picture file, each frame of it a page. Raises UnreadableDocument."""
    page = 0
    try:
        with warnings.catch_warnings(), ScanReader() as reader:
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)  # the pixels are counted below
            with _open(source) as image:
                count = getattr(image, "n_frames", 1)
                if count > MAX_PAGES:
                    raise UnreadableDocument(f"it has {count:,} pages, more than {MAX_PAGES:,}", "split it", file=source.path)

                def futures() -> Iterator[PageContent | Future[PageContent]]:
                    for number in range(1, count + 1):
                        if progress is not None:
                            progress(f"reading {source.path.name}: picture {number} of {count}")
                        yield reader.submit(_frame(image, number, source))

                pages: list[PageContent] = []
                for content in in_order(futures(), 2 * reader.workers):
                    page = len(pages) + 1
                    pages.append(content)
                page = 0
    except RecogniserError as error:
        raise UnreadableDocument(error.problem, error.remedy, file=source.path, page=page or None) from error
    document = assemble(source.path, id, "scan", source.sha256, pages)
    if not document.lines:
        remedy = "take it again, sharp, in even light and from right above"
        raise UnreadableDocument("no text was found in the picture", remedy, file=source.path)
    return document


def _open(source: Source) -> Image.Image:
    try:
        image = Image.open(io.BytesIO(source.data), formats=_FORMATS)
        _check_size(image, source)
    except Image.DecompressionBombError as error:
        raise _too_large(source) from error
    except (UnidentifiedImageError, OSError, ValueError, SyntaxError, EOFError) as error:
        raise UnreadableDocument("the picture is damaged or of a kind that is not read", _REMEDY, file=source.path) from error
    return image


def _too_large(source: Source) -> UnreadableDocument:
    return UnreadableDocument(f"the picture has more than {MAX_PIXELS // 10**6} million pixels", "save it smaller", file=source.path)


def _check_size(image: Image.Image, source: Source) -> None:
    if image.width * image.height > MAX_PIXELS:
        raise _too_large(source)
    if min(image.size) < 32:
        raise UnreadableDocument("the picture is too small to hold text", "give a larger one", file=source.path)


def _frame(image: Image.Image, number: int, source: Source) -> Picture:
    """A frame of the picture as grey levels, as it is meant to be looked at."""
    try:
        if number > 1:
            image.seek(number - 1)
            _check_size(image, source)
        dpi = _told_dpi(image)
        gray = as_gray(ImageOps.exif_transpose(image))
    except Image.DecompressionBombError as error:
        raise _too_large(source) from error
    except MemoryError as error:
        raise _too_large(source) from error
    except Exception as error:  # Pillow's decoders raise nearly anything for damaged data
        if isinstance(error, UnreadableDocument):
            raise
        raise UnreadableDocument("the picture is damaged", _REMEDY, file=source.path, page=number) from error
    points = 72.0 / dpi if dpi else _LONG_SIDE / max(gray.size)
    size = (gray.width * points, gray.height * points)
    real = 72.0 / points
    wanted = min(max(real, _READ_DPI[0]), _READ_DPI[1])
    if abs(wanted - real) > 1:
        scale = wanted / real
        gray = gray.resize((max(round(gray.width * scale), 1), max(round(gray.height * scale), 1)), Image.Resampling.LANCZOS)
    return Picture(np.asarray(gray), round(wanted), size)


def _told_dpi(image: Image.Image) -> float | None:
    """The picture's own resolution, if it can be true: a page is between a hand and a table wide."""
    told = image.info.get("dpi")
    try:
        dpi = float(told[0]) if told else 0.0
    except (TypeError, ValueError, ZeroDivisionError):
        return None
    if not _TOLD_DPI[0] <= dpi <= _TOLD_DPI[1]:
        return None
    return dpi if 4.0 <= max(image.size) / dpi <= 24.0 else None


def as_gray(image: Image.Image) -> Image.Image:
    """The picture in grey, on white where it is see-through."""
    if image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info:
        over = image.convert("RGBA")
        image = Image.new("RGBA", over.size, "white")
        image.alpha_composite(over)
    if image.mode.startswith("I;16") or image.mode in ("I", "F"):
        levels = np.asarray(image, dtype=np.float64)
        top = float(levels.max()) or 1.0
        return Image.fromarray((levels * (255.0 / top)).clip(0, 255).astype(np.uint8))
    return image.convert("L")
