"""What the reader takes on at most. The limits keep a wrong or hostile file from eating the machine; no manual comes near them."""

from __future__ import annotations

MAX_BYTES = 200 * 1024 * 1024  # of one file
MAX_PAGES = 2000
MAX_LINE_CHARS = 100_000
MAX_TEXT_CHARS = 20_000_000  # of one document's text
MAX_PAGE_CHARS = 200_000
MAX_PAGE_PATHS = 20_000  # drawn paths of a page that are looked at for table rules
MAX_PIXELS = 120_000_000  # of one image: A3 at 600 dpi is 70 million
