"""A picture of a page made ready for reading: even light, straight lines, upright; and its drawn rules."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageFilter

from hoopwright.reading.frame import Rect
from hoopwright.reading.rules import Rule
from hoopwright.reading.tesseract import Gray

_COARSE = 8  # pixels of the picture to one of the picture of its ground
_EVEN = 12  # grey levels by which the ground of a clean scan differs
_WORK_WIDTH = 900  # pixels in which the slant is measured
_MOST_SLANT, _STEP, _FINE = 12.0, 0.5, 0.1  # degrees
_LEAST_SLANT = 0.15  # degrees; less is not worth turning the picture
_ON_ITS_SIDE = 2.0  # how much sharper lines are upright than across, for the page to lie on its side
_LEAST_POINTS, _MOST_POINTS = 200, 40_000  # of ink that tell the slant
_BAR, _WALL = 0.4, 0.3  # inches: shorter strokes are dashes and the stems of letters
_THICKEST = 0.04  # inches: thicker ones are letters of a heading, or blocks
_MOST_DARK = 0.35  # of the page: more is a photo or a black ground

Mask = NDArray[np.bool_]
Points = NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class View:
    """How a straightened picture lies on its page: turned by ``quarters`` anticlockwise, then by ``angle`` degrees.

    ``width`` and ``height`` are the given picture's in pixels, ``straight`` those of the straightened one, ``points`` what a pixel
    measures, ``left`` and ``top`` the place of the picture's corner on the page in points.
    """

    width: int
    height: int
    straight: tuple[int, int]
    points: float
    quarters: int = 0
    angle: float = 0.0
    left: float = 0.0
    top: float = 0.0

    def on_page(self, rect: Rect) -> Rect:
        """The box on the page, in points, of a box in the straightened picture, given in points of the same size."""
        x0, top, x1, bottom = (side / self.points for side in rect)
        corners = [self._back(x, y) for x, y in ((x0, top), (x1, top), (x0, bottom), (x1, bottom))]
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        scale = self.points
        return (
            self.left + max(min(xs), 0.0) * scale,
            self.top + max(min(ys), 0.0) * scale,
            self.left + min(max(xs), self.width) * scale,
            self.top + min(max(ys), self.height) * scale,
        )

    def _back(self, x: float, y: float) -> tuple[float, float]:
        width, height = (self.height, self.width) if self.quarters % 2 else (self.width, self.height)
        if self.angle:
            a = math.radians(self.angle)
            dx, dy = x - self.straight[0] / 2, y - self.straight[1] / 2
            x, y = width / 2 + dx * math.cos(a) - dy * math.sin(a), height / 2 + dx * math.sin(a) + dy * math.cos(a)
        if self.quarters == 1:
            return self.width - y, x
        if self.quarters == 2:
            return self.width - x, self.height - y
        if self.quarters == 3:
            return y, self.height - x
        return x, y


def flattened(picture: Gray) -> Gray:
    """The picture with its ground made evenly white: each pixel divided by the light around it."""
    height, width = picture.shape
    small = Image.fromarray(picture).resize((max(width // _COARSE, 1), max(height // _COARSE, 1)), Image.Resampling.BOX)
    # The lightest of a neighbourhood wider than strokes and narrower than shadows is paper
    ground_image = small.filter(ImageFilter.MaxFilter(9)).filter(ImageFilter.GaussianBlur(6))
    ground = np.asarray(ground_image)
    low, high = np.percentile(ground, (2, 98))
    if high - low < _EVEN and low > 255 - 3 * _EVEN:
        return picture
    full = np.asarray(ground_image.resize((width, height), Image.Resampling.BILINEAR), dtype=np.float32)
    return np.clip(picture * (250.0 / np.maximum(full, 24.0)), 0, 255).astype(np.uint8)


def slant(picture: Gray) -> float:
    """The angle in degrees, anticlockwise, by which the picture must be turned for its lines to lie level.

    The right angle is the one at which the lines' shadows on the side are sharpest; after W. Postl, "Detection of Linear Oblique
    Structures and Skew Scan in Digitized Documents" (1986).
    """
    ys, xs = _ink(picture)
    if len(xs) < _LEAST_POINTS:
        return 0.0
    best, _ = _sharpest(xs, ys, _MOST_SLANT, _STEP, 0.0)
    found, _ = _sharpest(xs, ys, _STEP, _FINE, best)
    return found if abs(found) >= _LEAST_SLANT else 0.0


def lies_on_its_side(picture: Gray) -> bool:
    """Whether the lines of text run up or down the picture instead of across."""
    ys, xs = _ink(picture)
    if len(xs) < _LEAST_POINTS:
        return False
    _, across = _sharpest(xs, ys, _MOST_SLANT, _STEP, 0.0)
    _, upright = _sharpest(ys, -xs, _MOST_SLANT, _STEP, 0.0)
    return upright > _ON_ITS_SIDE * across


def _sharpest(xs: Points, ys: Points, reach: float, step: float, around: float) -> tuple[float, float]:
    """The angle within ``reach`` of ``around`` at which the lines are sharpest, and how sharp they are."""
    angles = np.arange(around - reach, around + reach + step / 2, step).tolist()
    sharp = [_sharpness(xs, ys, angle) for angle in angles]
    best = max(range(len(angles)), key=sharp.__getitem__)
    return angles[best], sharp[best]


def _ink(picture: Gray) -> tuple[Points, Points]:
    """Places of dark pixels in the picture made smaller."""
    height, width = picture.shape
    scale = max(max(width, height) / (1.4 * _WORK_WIDTH), 1.0)
    small = np.asarray(Image.fromarray(picture).resize((max(int(width / scale), 1), max(int(height / scale), 1)), Image.Resampling.BOX))
    ys, xs = np.nonzero(small < 140)
    if len(xs) > _MOST_POINTS:
        step = len(xs) // _MOST_POINTS + 1
        ys, xs = ys[::step], xs[::step]
    return ys.astype(np.float32), xs.astype(np.float32)


def _sharpness(xs: Points, ys: Points, angle: float) -> float:
    """How unevenly the ink falls on the lines that slope by ``angle`` degrees downwards to the right."""
    rows = ys - xs * np.float32(math.tan(math.radians(angle)))
    counts = np.bincount((rows - rows.min()).astype(np.int64))
    return float(np.sum(np.diff(counts.astype(np.float64)) ** 2))


def turned(picture: Gray, quarters: int, angle: float) -> Gray:
    """The picture turned anticlockwise by quarters and then by degrees, white where there was nothing."""
    out = np.rot90(picture, quarters) if quarters else picture
    if angle:
        image = Image.fromarray(np.ascontiguousarray(out))
        out = np.asarray(image.rotate(angle, resample=Image.Resampling.BICUBIC, expand=True, fillcolor=255))
    return np.ascontiguousarray(out)


def without_rules(picture: Gray, dpi: int) -> tuple[Gray, list[Rule]]:
    """The picture without its long straight strokes, which spoil the reading of the text beside them, and these strokes in points."""
    dark = _halved(picture) < 128
    if dark.mean() > _MOST_DARK:
        return picture, []
    thickest = max(int(_THICKEST * dpi / 2), 2)
    bars = _without_thick(_long_runs(dark, int(_BAR * dpi / 2)).T, thickest).T
    walls = _without_thick(_long_runs(dark.T, int(_WALL * dpi / 2)).T, thickest)
    if not (bars.any() or walls.any()):
        return picture, []
    points = 2 * 72.0 / dpi
    rules = [Rule(True, (y + 0.5) * points, a * points, b * points) for y, a, b in _runs(bars)]
    rules += [Rule(False, (x + 0.5) * points, a * points, b * points) for x, a, b in _runs(walls.T)]
    wide = np.repeat(np.repeat(_thick(bars, 0) | _thick(walls, 1), 2, axis=0), 2, axis=1)
    out = picture.copy()
    out[: wide.shape[0], : wide.shape[1]][wide] = 255
    return out, rules


def _halved(picture: Gray) -> Gray:
    """The picture at half the size, each pixel the darkest of four."""
    height, width = picture.shape[0] // 2 * 2, picture.shape[1] // 2 * 2
    upper = np.minimum(picture[0:height:2, :width], picture[1:height:2, :width])
    return np.minimum(upper[:, 0::2], upper[:, 1::2])


def _long_runs(dark: Mask, length: int) -> Mask:
    """The dark pixels that lie in level runs at least ``length`` long; a twentieth of a run may be missing."""
    height, width = dark.shape
    if width <= length or length < 8:
        return np.zeros_like(dark)
    sums = np.zeros((height, width + 1), dtype=np.int32)
    np.cumsum(dark, axis=1, out=sums[:, 1:])
    starts = (sums[:, length:] - sums[:, :-length]) >= 0.95 * length
    if not starts.any():
        return np.zeros_like(dark)
    cover = np.zeros((height, width + 1), dtype=np.int32)
    cover[:, : starts.shape[1]] += starts
    cover[:, length : length + starts.shape[1]] -= starts[:, : cover.shape[1] - length]
    return np.cumsum(cover, axis=1)[:, :width] > 0


def _runs(mask: Mask) -> list[tuple[int, int, int]]:
    """(row, first, behind the last) of each run in the mask."""
    edges = np.diff(mask.astype(np.int8), axis=1, prepend=0, append=0)
    rows, firsts = np.nonzero(edges == 1)
    _, ends = np.nonzero(edges == -1)
    return list(zip(rows.tolist(), firsts.tolist(), ends.tolist(), strict=True))


def _without_thick(mask: Mask, most: int) -> Mask:
    """The mask without its level runs longer than ``most``: across a stroke that is its thickness."""
    if not mask.any():
        return mask
    out = mask.copy()
    for row, first, end in _runs(mask):
        if end - first > most:
            out[row, first:end] = False
    return out


def _thick(mask: Mask, axis: int) -> Mask:
    """The mask with a rim of one pixel on either side: the strokes' grey edges."""
    return mask | np.roll(mask, 1, axis) | np.roll(mask, -1, axis)
