"""The page served to this computer alone: 127.0.0.1, a random token in the address, Host and Origin checked, one writer at a time."""

from __future__ import annotations

import secrets
import threading
from collections.abc import Callable, Sequence
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from importlib.resources import files
from pathlib import Path
from typing import Any

from hoopwright.model.errors import HoopwrightError, UsageError
from hoopwright.model.outline import Outline
from hoopwright.reporting.text import shown
from hoopwright.reviewing.accepting import acceptance
from hoopwright.reviewing.answers import Correction, Reader
from hoopwright.reviewing.corrections import describe
from hoopwright.reviewing.guard import HEADERS, body_length, fields, inner_path, refused_headers
from hoopwright.reviewing.page import corrections_page, list_page, prefilled, question_page, stopped_page, warnings_page
from hoopwright.reviewing.piece import picture
from hoopwright.reviewing.session import Review

PATIENCE = 15.0  # seconds for a request to arrive whole

Write = Callable[[], list[Path]]
Reply = tuple[int, str, bytes]  # status, content type (or where to go on, for 303), body
_HTML = "text/html; charset=utf-8"
_ICON = (
    b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 16 16"><path d="M2 15V8a6 6 0 0 1 12 0v7" fill="none" stroke="#0f5c4c" '
    b'stroke-width="2"/></svg>'
)


def _failed(words: str) -> Reply:
    return 500, "text/plain; charset=utf-8", words.encode("utf-8", "replace")


class Desk:
    """What the page does, without the network: a path and a form in, a reply out. One request at a time."""

    def __init__(self, review: Review, sources: Sequence[Path], write: Write, token: str) -> None:
        self.review = review
        self.sources = list(sources)
        self.write = write
        self.token = token
        self.stopped = threading.Event()
        self._lock = threading.Lock()

    def get(self, path: str) -> Reply | None:
        """The page at a path below the token, None if there is none."""
        with self._lock:
            try:
                return self._get(path)
            except HoopwrightError as error:
                return _failed(str(error))  # the answers file itself is broken
            except Exception as error:
                return _failed(f"the tool itself has failed ({type(error).__name__}); nothing was saved")

    def post(self, path: str, form: dict[str, str]) -> Reply | None:
        """Carry out a form, None if there is no such."""
        deed = {
            "answer": self._answer,
            "skip": self._skip,
            "withdraw": self._withdraw,
            "undo": self._undo,
            "correct": self._correct,
            "uncorrect": self._uncorrect,
            "accept": self._accept,
            "write": self._write,
            "stop": self._stop,
        }.get(path)
        if deed is None:
            return None
        with self._lock:
            try:
                return deed(form)
            except HoopwrightError as error:
                return self._problem(path, form, error)
            except Exception as error:
                return _failed(f"the tool itself has failed ({type(error).__name__}); look at the list of questions for what was saved")

    def _problem(self, path: str, form: dict[str, str], error: HoopwrightError) -> Reply:
        words = str(error)
        try:
            question = next((each for each in self.review.questions() if each.key == form.get("key")), None)
            if question is not None:
                return 422, _HTML, question_page(self.review, self.token, question, words, form.get("value", ""), form.get("note", ""))
            if path in ("correct", "uncorrect"):
                return 422, _HTML, corrections_page(self.review, self.token, words, form)
            if path == "accept":
                return 422, _HTML, warnings_page(self.review, self.token, words)
            return 422, _HTML, list_page(self.review, self.token, problem=words)
        except HoopwrightError:
            return _failed(words)

    def _get(self, path: str) -> Reply | None:
        if path == "":
            open_ = self.review.open()
            page = question_page(self.review, self.token, open_[0]) if open_ else list_page(self.review, self.token)
            return 200, _HTML, page
        if path == "list":
            return 200, _HTML, list_page(self.review, self.token)
        if path == "corrections":
            return 200, _HTML, corrections_page(self.review, self.token)
        if path == "warnings":
            return 200, _HTML, warnings_page(self.review, self.token)
        if path == "review.css":
            return 200, "text/css; charset=utf-8", files(__package__).joinpath("review.css").read_bytes()
        if path == "icon.svg":
            return 200, "image/svg+xml", _ICON
        room, _, name = path.partition("/")
        if room == "corrections":
            said = prefilled(self.review, *name.split("/")) if name.count("/") == 1 else None
            return (200, _HTML, corrections_page(self.review, self.token, said=said)) if said is not None else None
        key = name.removesuffix(".png") if room == "piece" else name
        question = next((each for each in self.review.questions() if each.key == key), None)
        if question is None:
            return None
        if room == "question":
            return 200, _HTML, question_page(self.review, self.token, question)
        if room == "piece" and question.source is not None:
            file = self._file(self.review.frame.outline, question.source.document)
            image = picture(self.review.frame.outline, question.source, file) if file is not None else None
            return (200, "image/png", image) if image is not None else None
        return None

    def _file(self, outline: Outline, document: str) -> Path | None:
        """The file that a document was read from: documents stand in the order of the files."""
        ids = [each.id for each in outline.documents]
        return self.sources[ids.index(document)] if document in ids and len(ids) == len(self.sources) else None

    def _answer(self, form: dict[str, str]) -> Reply:
        question = self.review.find(form.get("key", ""))
        given = self.review.given(question)
        typed, picked = form.get("value", "").strip(), form.get("reading", "").strip()
        old = given.value if given is not None else None
        words = picked if picked and typed in ("", old) else typed  # the box still holds the old value when a reading is picked instead
        now = given.words if given is not None else ""
        if now != form.get("seen", "") and now != words:
            remedy = "look at it, then save yours again if it shall stand"
            raise UsageError(
                f"this question has meanwhile been answered “{now}” elsewhere" if now else "its answer has been taken back", remedy
            )
        also = [each for each in self.review.cousins(question) if f"also-{each.key}" in form]
        self.review.answer(question, words, form.get("note", ""), also)
        return self._on()

    def _skip(self, form: dict[str, str]) -> Reply:
        self.review.skip(self.review.find(form.get("key", "")))
        return self._on()

    def _withdraw(self, form: dict[str, str]) -> Reply:
        self.review.withdraw(self.review.find(form.get("key", "")))
        return self._on("list")

    def _undo(self, form: dict[str, str]) -> Reply:
        self.review.undo()
        return self._on()

    def _correct(self, form: dict[str, str]) -> Reply:
        entry = {name: form[name].strip() for name in form if name in Correction.__dataclass_fields__ and form[name].strip()}
        if entry.get("do") == "structure":
            entry.pop("fitting", None)
        elif entry.get("do") != "form":
            entry = {name: value for name, value in entry.items() if name not in ("fact", "value")}
        read = Reader(Path("the form")).correction(entry)
        self.review.correct(read)
        return self._on("corrections")

    def _uncorrect(self, form: dict[str, str]) -> Reply:
        index = form.get("index", "")
        corrections = self.review.answers.corrections
        if not index.isdecimal() or int(index) >= len(corrections) or describe(corrections[int(index)]) != form.get("text"):
            raise UsageError("that correction has changed meanwhile", "look at the list again")
        self.review.uncorrect(corrections[int(index)])
        return self._on("corrections")

    def _accept(self, form: dict[str, str]) -> Reply:
        warnings = self.review.settled().schedule.warnings
        warning = next((each for each in warnings if (each.id, each.message) == (form.get("warning"), form.get("text"))), None)
        if warning is None:
            raise UsageError("that warning has changed meanwhile", "look at it again")
        self.review.correct(acceptance(warning, " ".join(form.get("note", "").split())[:300]))
        return self._on("warnings")

    def _write(self, form: dict[str, str]) -> Reply:
        written = [str(path) for path in self.write()]
        return 200, _HTML, list_page(self.review, self.token, written)

    def _stop(self, form: dict[str, str]) -> Reply:
        self.stopped.set()
        return 200, _HTML, stopped_page(self.review, self.token)

    def _on(self, path: str = "") -> Reply:
        return 303, f"/{self.token}/{path}", b""


class _Handler(BaseHTTPRequestHandler):
    """HTTP around a Desk. Whatever is not plainly a request of our own page gets an empty reply."""

    protocol_version = "HTTP/1.1"
    timeout = PATIENCE
    server: Server

    def do_GET(self) -> None:
        path = self._path(posting=False)
        self._reply(self.server.desk.get(path) if path is not None else None)

    def do_POST(self) -> None:
        path = self._path(posting=True)
        length = body_length(self._headers()) if path is not None else None
        if path is None or length is None:
            self.close_connection = True  # the body, if any, is not read
            self._reply(None if path is None else (413, "", b""))
            return
        form = fields(self.rfile.read(length))
        self._reply(self.server.desk.post(path, form) if form is not None else (400, "", b""))

    def _headers(self) -> dict[str, str]:
        """Headers by name; one that comes twice counts as absent, for which of them holds is anybody's guess."""
        names = [name.title() for name in self.headers]
        return {name.title(): value for name, value in self.headers.items() if names.count(name.title()) == 1}

    def _path(self, *, posting: bool) -> str | None:
        if refused_headers(self._headers(), self.server.address, posting=posting):
            return None
        return inner_path(self.path, self.server.desk.token)

    def _reply(self, reply: Reply | None) -> None:
        status, kind, body = reply if reply is not None else (404, "", b"")
        self.send_response(status)
        for name, value in HEADERS.items():
            self.send_header(name, value)
        if kind:
            self.send_header("Location" if status == 303 else "Content-Type", kind)
        self.send_header("Content-Length", str(len(body)))
        if self.close_connection:
            self.send_header("Connection", "close")
        self.end_headers()
        self.wfile.write(body)
        if self.server.desk.stopped.is_set():
            self.close_connection = True
            threading.Thread(target=self.server.shutdown, daemon=True).start()

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        """An unknown method or a broken request: an empty reply, no words about what serves here."""
        self.close_connection = True
        self._reply((405 if code == 501 else code, "", b""))

    def version_string(self) -> str:
        """No version of anything in the replies."""
        return "hoopwright"

    def log_message(self, format: str, *args: Any) -> None:
        """Nothing: the address holds the token."""


class Server(ThreadingHTTPServer):
    """Listens on 127.0.0.1, at a free port unless one is named."""

    daemon_threads = True

    def __init__(self, desk: Desk, port: int = 0) -> None:
        super().__init__(("127.0.0.1", port), _Handler)
        self.desk = desk
        self.address = f"127.0.0.1:{self.server_address[1]}"

    @property
    def url(self) -> str:
        """Where the first question is."""
        return f"http://{self.address}/{self.desk.token}/"

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A browser that goes away in the middle is no reason for a traceback."""


def serve(review: Review, sources: Sequence[Path], write: Write, *, tell: Callable[[str], None], browser: bool = True) -> None:
    """Serve the page until it is closed there, or by Ctrl-C; answers are on the disk at every moment."""
    server = Server(Desk(review, sources, write, secrets.token_urlsafe(24)))
    tell(f"{len(review.open())} of {len(review.questions())} questions are open. Answer them at\n\n  {server.url}\n\nCtrl-C ends it.")
    if browser:
        import webbrowser

        threading.Thread(target=webbrowser.open, args=(server.url,), daemon=True).start()
    try:
        server.serve_forever(poll_interval=0.1)
    except KeyboardInterrupt:
        tell("")
    finally:
        server.server_close()
    tell(f"Your answers are in {shown(str(review.path))}; {len(review.open())} of {len(review.questions())} questions are open.")
