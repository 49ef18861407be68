"""The preview page: who may ask, for what, and what a job's text can do on it."""

from __future__ import annotations

import http.client
import json
from collections.abc import Iterator
from threading import Thread

import pytest

from cardgen.preview.page import Shown, Snapshot, page
from cardgen.preview.serve import server

SHOWN = Snapshot(
    7,
    (
        Shown("specs/jobs/one.yaml", "good", (), b"%PDF-one"),
        Shown("specs/jobs/two.yaml", "faulty", ("two.yaml:3:5 <script>alert(1)</script>",), None),
    ),
)


@pytest.fixture(scope="module")
def port() -> Iterator[int]:
    served = server(0, lambda: SHOWN)
    Thread(target=served.serve_forever, daemon=True).start()
    yield served.server_address[1]
    served.shutdown()
    served.server_close()


def ask(
    port: int, path: str, *, method: str = "GET", host: str | None = None
) -> tuple[int, bytes, dict[str, str]]:
    line = http.client.HTTPConnection("127.0.0.1", port, timeout=5)
    line.putrequest(method, path, skip_host=True)
    if host != "":
        line.putheader("Host", host or f"127.0.0.1:{port}")
    line.endheaders()
    answer = line.getresponse()
    try:
        return answer.status, answer.read(), dict(answer.getheaders())
    finally:
        line.close()


@pytest.mark.parametrize(
    ("path", "kind", "body"),
    [
        ("/", "text/html; charset=utf-8", page(SHOWN)),
        ("/state", "application/json", json.dumps({"revision": 7}).encode()),
        ("/card/0", "application/pdf", b"%PDF-one"),
        ("/card/0?revision=7", "application/pdf", b"%PDF-one"),
    ],
)
def test_the_page_its_state_and_its_cards_are_answered(
    port: int, path: str, kind: str, body: bytes
) -> None:
    status, got, headers = ask(port, path)
    assert (status, headers["Content-Type"], got) == (200, kind, body)
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert "default-src 'none'" in headers["Content-Security-Policy"]


def test_the_same_machine_may_be_called_localhost(port: int) -> None:
    assert ask(port, "/", host=f"localhost:{port}")[0] == 200


@pytest.mark.parametrize("host", ["", "example.org", "127.0.0.1", "127.0.0.1:1", "localhost:80"])
def test_another_name_of_this_machine_is_refused(port: int, host: str) -> None:
    assert ask(port, "/", host=host)[0] == 403


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "HEAD", "OPTIONS", "PATCH"])
def test_only_get_is_answered(port: int, method: str) -> None:
    assert ask(port, "/", method=method)[0] == 501


@pytest.mark.parametrize(
    "path",
    [
        "/card/1",
        "/card/2",
        "/card/999999999999",
        "/card/-1",
        "/card/0/../../etc/passwd",
        "/../pyproject.toml",
        "/specs/jobs/one.yaml",
        "/%2e%2e/pyproject.toml",
        "//etc/passwd",
        "http://127.0.0.1/",
        "/card/0?revision=x",
        "*",
    ],
)
def test_there_is_nothing_else(port: int, path: str) -> None:
    assert ask(port, path)[0] == 404


def test_text_of_a_job_is_never_markup() -> None:
    html = page(SHOWN).decode()
    assert "<script>alert" not in html
    assert "&lt;script&gt;alert(1)" in html
