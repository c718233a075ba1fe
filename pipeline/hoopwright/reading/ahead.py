"""Pages that are read side by side, given back in their order."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator
from concurrent.futures import Future

from hoopwright.reading.content import PageContent


def in_order(pages: Iterable[PageContent | Future[PageContent]], ahead: int) -> Iterator[PageContent]:
    """The pages in order, with at most ``ahead`` of them begun before they are asked for: pictures are large."""
    waiting: deque[PageContent | Future[PageContent]] = deque()
    for page in pages:
        waiting.append(page)
        while len(waiting) > ahead or (waiting and isinstance(waiting[0], PageContent)):
            yield _result(waiting.popleft())
    while waiting:
        yield _result(waiting.popleft())


def _result(page: PageContent | Future[PageContent]) -> PageContent:
    return page if isinstance(page, PageContent) else page.result()
