"""The local page over HTTP: only its own requests are answered; two tabs, a changed file, undo, the end."""

from __future__ import annotations

import re
import socket
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from hoopwright.reviewing import load
from hoopwright.reviewing.guard import LARGEST_BODY
from hoopwright.reviewing.server import Server
from hoopwright.reviewing.session import Review

from reviewing.desks import TOKEN, fetch, kit, review_of, serving

FORM = "application/x-www-form-urlencoded"


@dataclass
class Open:
    """A page that is being served, and who looks at it."""

    server: Server
    review: Review

    def url(self, path: str = "") -> str:
        return self.server.url + path

    def raw(self, request: bytes) -> bytes:
        """What comes back for bytes that no browser sends."""
        with socket.create_connection(("127.0.0.1", int(self.server.server_address[1])), timeout=5) as link:
            link.sendall(request)
            link.settimeout(5)
            got = b""
            while chunk := link.recv(65536):
                got += chunk
                head, _, body = got.partition(b"\r\n\r\n")
                length = re.search(rb"Content-Length: (\d+)", head)
                if length is not None and len(body) >= int(length[1]):
                    break
        return got


@pytest.fixture
def page(tmp_path: Path) -> Iterator[Open]:
    review = review_of(kit("e6-doubtful"), tmp_path)
    with serving(review, kit("e6-doubtful"), [Path("sheets.pdf")]) as server:
        yield Open(server, review)


def _key(text: str) -> str:
    found = re.search(r'name="key" value="([^"]+)"', text)
    assert found is not None
    return found[1]


def test_listens_on_this_computer_alone(page: Open) -> None:
    assert page.server.server_address[0] == "127.0.0.1"


def test_every_reply_carries_the_policy_and_fetches_nothing_from_outside(page: Open) -> None:
    for path in ("", "list", "corrections", "review.css", "nothing-here"):
        reply = fetch(page.url(path))
        policy = reply.headers["Content-Security-Policy"]
        assert "default-src 'none'" in policy and "unsafe" not in policy and "frame-ancestors 'none'" in policy
        assert reply.headers["Cache-Control"] == "no-store"
        assert reply.headers["X-Content-Type-Options"] == "nosniff"
        assert "http://" not in reply.text and "https://" not in reply.text and "<script" not in reply.text
        assert not re.search(r"\d+\.\d+", reply.headers["Server"])


@pytest.mark.parametrize(
    "path",
    [
        "/",
        "/wrong-token-wrong-token-wrong-token/",
        f"/{TOKEN}",
        f"/{TOKEN[:-1]}/",
        f"/{TOKEN}x/",
        f"/{TOKEN}/../",
        f"/{TOKEN}/../../etc/passwd",
        f"/{TOKEN}/piece/../../../../etc/passwd.png",
        f"/{TOKEN}/%2e%2e/%2e%2e/etc/passwd",
        f"/{TOKEN}/question/..%2f..%2fx",
        f"/{TOKEN}//etc/passwd",
        f"/{TOKEN}/review.css?x=1",
        f"/{TOKEN}/frame.j2",
        f"/{TOKEN}/server.py",
        f"/{TOKEN}/question/nonsense-00000000",
        f"/{TOKEN}/piece/nonsense-00000000.png",
        f"/{TOKEN}/\x01",
    ],
)
def test_wrong_tokens_and_path_tricks_get_nothing(page: Open, path: str) -> None:
    request = f"GET {path} HTTP/1.1\r\nHost: {page.server.address}\r\nConnection: close\r\n\r\n".encode()
    head, _, body = page.raw(request).partition(b"\r\n\r\n")
    assert re.match(rb"HTTP/1.1 40[04] ", head)
    assert body == b""


@pytest.mark.parametrize("host", ["evil.example", "localhost", "127.0.0.1", "127.0.0.1:1", "", "[::1]"])
def test_another_host_gets_nothing(page: Open, host: str) -> None:
    for request in (
        f"GET /{TOKEN}/ HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n",
        f"GET /{TOKEN}/ HTTP/1.1\r\nHost: {page.server.address}\r\nHost: {host}\r\nConnection: close\r\n\r\n",
        f"GET /{TOKEN}/ HTTP/1.1\r\nConnection: close\r\n\r\n",
    ):
        head, _, body = page.raw(request.encode()).partition(b"\r\n\r\n")
        assert head.startswith(b"HTTP/1.1 404 ") and body == b""


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "https://127.0.0.1", None])
def test_a_form_from_elsewhere_changes_nothing(page: Open, origin: str | None) -> None:
    question = page.review.questions()[0]
    form = {"key": question.key, "reading": question.readings[0], "seen": ""}
    reply = fetch(page.url("answer"), form, {"Origin": origin or ""})
    assert (reply.status, reply.content) == (404, b"")
    assert load(page.review.path).empty


def test_a_form_that_the_browser_calls_foreign_changes_nothing(page: Open) -> None:
    reply = fetch(page.url("undo"), b"", {"Sec-Fetch-Site": "cross-site"})
    assert (reply.status, reply.content) == (404, b"")
    assert fetch(page.url(), None, {"Sec-Fetch-Site": "cross-site"}).status == 404


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "HEAD", "TRACE", "CONNECT", "GETS"])
def test_other_methods_get_nothing(page: Open, method: str) -> None:
    head, _, body = page.raw(f"{method} /{TOKEN}/ HTTP/1.1\r\nHost: {page.server.address}\r\n\r\n".encode()).partition(b"\r\n\r\n")
    assert head.startswith(b"HTTP/1.1 405 ") and body == b""


@pytest.mark.parametrize(
    "headers",
    [
        {"Content-Length": str(LARGEST_BODY + 1), "Content-Type": FORM},
        {"Content-Length": "99999999999999999999", "Content-Type": FORM},
        {"Content-Length": "-1", "Content-Type": FORM},
        {"Content-Length": "1e3", "Content-Type": FORM},
        {"Content-Type": FORM},
        {"Transfer-Encoding": "chunked", "Content-Type": FORM},
        {"Content-Length": "2", "Content-Type": "application/json"},
        {"Content-Length": "2"},
    ],
)
def test_oversized_and_odd_bodies_are_refused_unread(page: Open, headers: dict[str, str]) -> None:
    lines = "".join(f"{name}: {value}\r\n" for name, value in headers.items())
    head = f"POST /{TOKEN}/answer HTTP/1.1\r\nHost: {page.server.address}\r\nOrigin: http://{page.server.address}\r\n{lines}\r\n"
    got, _, body = page.raw(head.encode()).partition(b"\r\n\r\n")
    assert got.startswith(b"HTTP/1.1 413 ") and body == b""
    assert b"Connection: close" in got


@pytest.mark.parametrize("body", ["&".join(f"a{number}=1" for number in range(50)), "key", "\xff=1", "key=%00"])
def test_forms_that_are_none(page: Open, body: str) -> None:
    reply = fetch(page.url("answer"), body.encode("latin-1"))
    assert reply.status in (400, 422)
    assert load(page.review.path).empty


def test_a_word_that_is_too_long_or_has_no_effect_is_refused_in_words(page: Open) -> None:
    key = next(question.key for question in page.review.questions() if question.about == "position")
    for value, words in (("x" * 301, "longer than 300"), ("by eye", "gives no distance"), ("", "the answer is empty")):
        reply = fetch(page.url("answer"), {"key": key, "seen": "", "value": value})
        assert reply.status == 422
        assert words in reply.text
    assert load(page.review.path).empty


def test_text_of_the_user_is_escaped(page: Open) -> None:
    key = next(question.key for question in page.review.questions() if question.about == "position")
    data = {"key": key, "seen": "", "value": "1 m above the ground", "note": "<script>alert(1)</script>\u202e"}
    assert fetch(page.url("answer"), data).status == 303
    text = fetch(page.url("list")).text
    assert "<script" not in text and "&lt;script&gt;" in text and "\u202e" not in text


def test_two_tabs_do_not_overwrite_each_other_unseen(page: Open) -> None:
    question = page.review.questions()[0]
    first = fetch(page.url("answer"), {"key": question.key, "seen": "", "reading": question.readings[0]})
    assert first.status == 303
    second = fetch(page.url("answer"), {"key": question.key, "seen": "", "reading": question.readings[1]})
    assert second.status == 422 and "meanwhile" in second.text
    assert [each.words for each in load(page.review.path).answers] == [question.readings[0]]
    again = fetch(page.url("answer"), {"key": question.key, "seen": question.readings[0], "reading": question.readings[1]})
    assert again.status == 303
    assert [each.words for each in load(page.review.path).answers] == [question.readings[1]]


def test_a_change_of_the_file_from_elsewhere_is_seen(page: Open, tmp_path: Path) -> None:
    fetch(page.url())
    other = review_of(kit("e6-doubtful"), tmp_path)
    question = other.questions()[0]
    other.answer(question, question.readings[1])
    assert fetch(page.url()).text.count("1 of 6 questions settled") == 1


def test_a_file_broken_meanwhile_is_named_and_mends(page: Open) -> None:
    page.review.path.write_text("answers: [\n", encoding="utf-8")
    reply = fetch(page.url())
    assert reply.status == 500 and "line" in reply.text and "Traceback" not in reply.text
    page.review.path.unlink()
    assert fetch(page.url()).status == 200


def test_skip_undo_take_back_and_the_end(page: Open) -> None:
    first = _key(fetch(page.url()).text)
    fetch(page.url("skip"), {"key": first})
    second = _key(fetch(page.url()).text)
    assert second != first
    question = page.review.find(second)
    fetch(page.url("answer"), {"key": second, "seen": "", "reading": question.readings[0]})
    assert "1 of 6 questions settled" in fetch(page.url()).text
    fetch(page.url("undo"), b"")
    assert "0 of 6 questions settled" in fetch(page.url()).text
    fetch(page.url("answer"), {"key": second, "seen": "", "reading": question.readings[0]})
    fetch(page.url("withdraw"), {"key": second})
    assert load(page.review.path).empty
    written = fetch(page.url("write"), b"")
    assert "sheets.pdf" in written.text
    assert "Closed" in fetch(page.url("stop"), b"").text
    assert page.server.desk.stopped.is_set()


def test_a_correction_is_filed_shown_and_taken_back(page: Open) -> None:
    part = next(iter(page.review.settled().schedule.counts["H2"]))
    before = dict(page.review.settled().schedule.counts["H2"])
    data = {"do": "remove", "fitting": part, "hoops": "2"}
    assert fetch(page.url("correct"), data).status == 303
    assert part not in page.review.settled().schedule.counts["H2"]
    text = fetch(page.url("corrections")).text
    assert f"remove {part} on hoops 2" in text
    bad = fetch(page.url("correct"), {**data, "hoops": "99"})
    assert bad.status == 422 and "names no hoops" in bad.text
    fetch(page.url("uncorrect"), {"index": "0", "text": f"remove {part} on hoops 2"})
    assert page.review.settled().schedule.counts["H2"] == before


def test_one_answer_for_several_questions_only_where_the_user_says_so(tmp_path: Path) -> None:
    review = review_of(kit("c8-all-caps-scanlike"), tmp_path)
    asked = next((each for each in review.questions() if review.cousins(each)), None)
    assert asked is not None
    cousins = review.cousins(asked)
    with serving(review, kit("c8-all-caps-scanlike")) as server:
        form = {"key": asked.key, "seen": "", "reading": asked.readings[-1]}
        assert f'name="also-{cousins[0].key}"' in fetch(f"{server.url}question/{asked.key}").text
        fetch(f"{server.url}answer", form)
        assert len(load(review.path).answers) == 1
        fetch(f"{server.url}undo", b"")
        fetch(f"{server.url}answer", form | {f"also-{each.key}": "1" for each in cousins})
        assert len(load(review.path).answers) == 1 + len(cousins)
        assert review.settled().leftovers == ()
        fetch(f"{server.url}undo", b"")
    assert load(review.path).empty


def test_how_a_part_goes_on_can_be_said(page: Open) -> None:
    text = fetch(page.url("corrections")).text
    found = re.search(r'name="fitting" value="([^"]+)"><input type="hidden" name="value" value="slides on"', text)
    assert found is not None
    part = found[1]
    for value, when in (("slides on", "before-joining"), ("opens", "any-time")):
        assert fetch(page.url("correct"), {"do": "form", "fitting": part, "value": value}).status == 303
        placed = [each for each in page.review.settled().schedule.placements if each.fitting == part and each.hoop]
        assert {each.when for each in placed} == {when}
        assert not any(words.startswith("taken to") for each in placed for words in each.assumed)
        assert fetch(page.url("undo"), b"").status == 303


def test_a_number_in_the_table_opens_the_form_for_it(page: Open) -> None:
    text = fetch(page.url("corrections")).text
    found = re.search(r'href="[^"]+/(corrections/h2/\d+)">(\d+) ([^<]+)</a>', text)
    assert found is not None
    filled = fetch(page.url(found[1]))
    assert filled.status == 200
    assert f'<option value="{found[3]}" selected>' in filled.text and 'name="hoops" maxlength="100" value="2"' in filled.text
    for path in ("corrections/h99/1", "corrections/h2/999", "corrections/h2", "corrections/h2/1/1", "corrections/x/1"):
        assert fetch(page.url(path)).status == 404, path


def test_what_an_answer_changed_is_said_on_the_next_page(page: Open) -> None:
    question = next(each for each in page.review.questions() if each.about == "member")
    fetch(page.url("answer"), {"key": question.key, "seen": "", "reading": "hoops 4"})
    assert "H3, H5: no lamp ring instead of 1" in fetch(page.url()).text
    fetch(page.url("undo"), b"")
    assert "Saved:" not in fetch(page.url()).text


def test_a_warning_is_accepted_on_the_page(tmp_path: Path) -> None:
    review = review_of(kit("meadow-5"), tmp_path)
    warning = review.settled().schedule.warnings[0]
    with serving(review, kit("meadow-5")) as server:
        assert "It is right as it stands" in fetch(f"{server.url}warnings").text
        stale = fetch(f"{server.url}accept", {"warning": warning.id, "text": "other words"})
        assert stale.status == 422 and "has changed meanwhile" in stale.text
        assert fetch(f"{server.url}accept", {"warning": warning.id, "text": warning.message, "note": "it opens"}).status == 303
        assert [each.do for each in load(review.path).corrections] == ["accept"]
        assert "accepted" in fetch(f"{server.url}warnings").text
        assert fetch(f"{server.url}undo", b"").status == 303
    assert load(review.path).empty
