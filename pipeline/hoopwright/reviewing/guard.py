"""Which requests the local page answers at all. Everything else gets an empty reply."""

from __future__ import annotations

import hmac
import re
from collections.abc import Mapping
from urllib.parse import parse_qs

LARGEST_BODY = 16_384  # bytes; a form of ours has a few hundred
MOST_FIELDS = 20
_PATH = re.compile(r"/(?P<token>[A-Za-z0-9_-]{20,100})/(?P<rest>[a-z0-9./-]{0,120})")
_FORM = "application/x-www-form-urlencoded"

HEADERS = {
    "Content-Security-Policy": "default-src 'none'; style-src 'self'; img-src 'self'; form-action 'self'; "
    "base-uri 'none'; frame-ancestors 'none'",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    # Not "no-referrer": with it a browser sends "Origin: null" with our own forms, and they could not be told from foreign ones.
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-store",
}


def inner_path(path: str, token: str) -> str | None:
    """What follows the token in a request's path, None for a wrong token, a query, dots that climb, or anything unusual."""
    found = _PATH.fullmatch(path)
    if found is None or ".." in path or not hmac.compare_digest(found["token"].encode(), token.encode()):
        return None
    return found["rest"]


def refused_headers(headers: Mapping[str, str], address: str, *, posting: bool) -> bool:
    """Whether Host, Origin or where the request comes from are not those of the page itself. ``address`` is ``127.0.0.1:8123``.

    A name that a foreign site has pointed at this computer is not the Host that is expected; a form on a foreign page has another Origin.
    """
    if headers.get("Host") != address:
        return True
    origin = headers.get("Origin")
    if origin is not None and origin != f"http://{address}":
        return True
    if posting and origin is None:
        return True
    site = headers.get("Sec-Fetch-Site", "same-origin")
    return site not in (("same-origin",) if posting else ("same-origin", "none"))


def body_length(headers: Mapping[str, str]) -> int | None:
    """The length of a form's body; None where it is not plainly said, too long, or not a form."""
    said = headers.get("Content-Length", "")
    if headers.get("Transfer-Encoding") is not None or not said.isdecimal() or len(said) > 9 or int(said) > LARGEST_BODY:
        return None
    kind = headers.get("Content-Type", "").split(";")[0].strip().lower()
    return int(said) if kind == _FORM else None


def fields(body: bytes) -> dict[str, str] | None:
    """The fields of a form, the last of each name; None where it is none."""
    try:
        found = parse_qs(
            body.decode("ascii"), keep_blank_values=True, strict_parsing=bool(body), max_num_fields=MOST_FIELDS, errors="strict"
        )
    except ValueError:
        return None
    return {name: values[-1] for name, values in found.items()}
