"""The preview page at a loopback address: who may ask, and for what.

Only this machine can reach the address. A page of another site, open in the same browser, could
still be made to ask here under a name of its own; so the request's Host must be ours, and nothing
is answered but a closed list of addresses. No address ever becomes a file's name.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

from cardgen.preview.page import SCRIPT, STYLE, Snapshot, page

ADDRESS = "127.0.0.1"

_CARD = re.compile(r"/card/(\d{1,6})(?:\?revision=\d{1,12})?", re.ASCII)
_GUARDS = {
    "Cache-Control": "no-store",
    "Content-Security-Policy": "default-src 'none'; style-src 'self'; script-src 'self'; "
    "connect-src 'self'; frame-src 'self'; object-src 'self'; frame-ancestors 'self'; "
    "base-uri 'none'; form-action 'none'",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
}


def server(port: int, snapshot: Callable[[], Snapshot]) -> ThreadingHTTPServer:
    """Return a server of the page, bound and not yet running.

    Parameters
    ----------
    port
        To listen at; 0 for any that is free.
    snapshot
        Gives what is to be shown now.

    Raises
    ------
    OSError
        If the port is taken.
    """

    class Handler(BaseHTTPRequestHandler):
        server_version = "cardgen"
        sys_version = ""
        timeout = 10  # a caller that says nothing must not hold a thread for ever

        def do_GET(self) -> None:
            if not self._ours():
                self._answer(HTTPStatus.FORBIDDEN, "text/plain", b"This page has another name.")
                return
            found = _found(self.path, snapshot())
            if found is None:
                self._answer(HTTPStatus.NOT_FOUND, "text/plain", b"There is no such page.")
            else:
                self._answer(HTTPStatus.OK, *found)

        def _ours(self) -> bool:
            own = self.connection.getsockname()[1]
            return self.headers.get_all("Host") in ([f"{ADDRESS}:{own}"], [f"localhost:{own}"])

        def _answer(self, status: HTTPStatus, kind: str, body: bytes) -> None:
            self.send_response(status)
            self.send_header("Content-Type", kind)
            self.send_header("Content-Length", str(len(body)))
            for name, value in _GUARDS.items():
                self.send_header(name, value)
            self.end_headers()
            self.wfile.write(body)

        def log_message(self, format: str, *args: object) -> None:
            """Say nothing: the terminal is for the jobs."""

    class Server(ThreadingHTTPServer):
        daemon_threads = True

        def handle_error(self, request: object, client_address: object) -> None:
            """Say nothing: a browser that goes away in mid-answer is no fault."""

    return Server((ADDRESS, port), Handler)


def _found(path: str, shown: Snapshot) -> tuple[str, bytes] | None:
    """Return the kind and the content of what stands at an address, or ``None``."""
    if path == "/":
        return "text/html; charset=utf-8", page(shown)
    if path == "/state":
        return "application/json", shown.state()
    if path == "/style.css":
        return "text/css; charset=utf-8", STYLE
    if path == "/page.js":
        return "text/javascript; charset=utf-8", SCRIPT
    if match := _CARD.fullmatch(path):
        number = int(match[1])
        card = shown.jobs[number].card if number < len(shown.jobs) else None
        return None if card is None else ("application/pdf", card)
    return None
