"""Reviews of the tests' manuals, and the page running in this process."""

from __future__ import annotations

import http.client
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlencode, urlsplit

from hoopwright.api import manual_files, settle
from hoopwright.reviewing.server import Desk, Server
from hoopwright.reviewing.session import Review

from library import CORPUS, EXAMPLES, HELD_OUT, NEWEST, SAMPLES, UNSEEN, Kit, understood

TOKEN = "a-token-for-tests-only-0123456789"


def review_of(kit: Kit, folder: Path) -> Review:
    """A review whose answers stand in ``folder``."""
    return Review(folder / "kit.answers.yaml", lambda answers: settle(understood(kit), answers))


KITS = [*EXAMPLES, *CORPUS, *SAMPLES]
EVERY = [*KITS, *HELD_OUT, *UNSEEN, *NEWEST]


def kit(name: str) -> Kit:
    """The kit of that name."""
    return next(each for each in EVERY if each.name == name)


@contextmanager
def serving(review: Review, kit: Kit, written: list[Path] | None = None) -> Iterator[Server]:
    """The page, served until the block ends."""
    server = Server(Desk(review, manual_files([kit.manual]), lambda: written or [], TOKEN))
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02}, daemon=True)
    thread.start()
    try:
        yield server
    finally:
        server.shutdown()
        server.server_close()
        thread.join(5)


@dataclass(frozen=True)
class Reply:
    """What came back."""

    status: int
    headers: dict[str, str]
    content: bytes

    @property
    def text(self) -> str:
        return self.content.decode("utf-8")


def fetch(url: str, form: dict[str, str] | bytes | None = None, headers: dict[str, str] | None = None) -> Reply:
    """A GET, or a POST of a form as a browser sends it from the page itself; ``headers`` go before, and an empty one is left away."""
    parts = urlsplit(url)
    sent = {"Origin": f"http://{parts.netloc}", "Content-Type": "application/x-www-form-urlencoded"} if form is not None else {}
    sent = {name: value for name, value in (sent | (headers or {})).items() if value}
    body = urlencode(form).encode() if isinstance(form, dict) else form
    link = http.client.HTTPConnection(parts.hostname or "", parts.port, timeout=60)
    try:
        link.request("GET" if form is None else "POST", parts.path, body=body, headers=sent)
        got = link.getresponse()
        return Reply(got.status, dict(got.headers.items()), got.read())
    finally:
        link.close()
