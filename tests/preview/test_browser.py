"""The preview in a real browser without a window: faults appear in place, and go when mended."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]
BROWSER = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "chrome"))), None)
JOB = "specs/jobs/nipping-press-screw.yaml"

pytestmark = pytest.mark.skipif(BROWSER is None, reason="no Chromium on this machine")


class Page:
    """A browser's one page, spoken to over two pipes (the DevTools protocol)."""

    def __init__(self, profile: Path) -> None:
        to_browser, self._write = os.pipe()
        self._read, from_browser = os.pipe()

        def hand_over() -> None:
            # The browser expects its two pipes as handles 3 and 4.
            high = os.dup(to_browser), os.dup(from_browser)
            os.dup2(high[0], 3)
            os.dup2(high[1], 4)

        assert BROWSER is not None
        self._process = subprocess.Popen(
            [
                BROWSER,
                "--headless=new",
                "--no-sandbox",
                "--disable-gpu",
                "--disable-dev-shm-usage",
                f"--user-data-dir={profile}",
                "--remote-debugging-pipe",
            ],
            close_fds=False,
            preexec_fn=hand_over,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        os.close(to_browser)
        os.close(from_browser)
        self._left = b""
        self._count = 0
        target = self._say("Target.createTarget", url="about:blank")["targetId"]
        self._session = self._say("Target.attachToTarget", targetId=target, flatten=True)[
            "sessionId"
        ]

    def _say(self, method: str, session: str | None = None, **params: Any) -> Any:
        self._count += 1
        told: dict[str, Any] = {"id": self._count, "method": method, "params": params}
        if session:
            told["sessionId"] = session
        os.write(self._write, json.dumps(told).encode() + b"\0")
        while True:
            while b"\0" not in self._left:
                self._left += os.read(self._read, 1 << 16)
            line, self._left = self._left.split(b"\0", 1)
            answer = json.loads(line)
            if answer.get("id") == self._count:
                assert "error" not in answer, answer
                return answer["result"]

    def go(self, url: str) -> None:
        self._say("Page.navigate", self._session, url=url)

    def ask(self, expression: str) -> Any:
        result = self._say(
            "Runtime.evaluate", self._session, expression=expression, returnByValue=True
        )
        return result["result"].get("value")

    def until(self, expression: str, seconds: float = 40.0) -> None:
        end = time.monotonic() + seconds
        while not self.ask(expression):
            assert time.monotonic() < end, f"{expression}: {self.ask('document.body.innerText')}"
            time.sleep(0.1)

    def close(self) -> None:
        self._process.kill()
        self._process.wait()
        os.close(self._read)
        os.close(self._write)


@pytest.fixture
def opened(tmp_path: Path) -> Iterator[Page]:
    page = Page(tmp_path / "profile")
    yield page
    page.close()


def test_a_fault_appears_on_the_open_page_and_goes_when_it_is_mended(
    tmp_path: Path, opened: Page
) -> None:
    home = tmp_path / "home"
    shutil.copytree(ROOT / "specs", home / "specs")
    shutil.copytree(ROOT / "templates", home / "templates")
    job = home / JOB
    good = job.read_text("utf-8")
    watch = subprocess.Popen(
        [sys.executable, "-m", "cardgen", "watch", JOB],
        cwd=home,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    )
    try:
        assert watch.stdout is not None
        opened.go(watch.stdout.readline().split()[0])
        opened.until("document.querySelectorAll('section.good iframe').length === 1")

        bad = "'<img src=x onerror=document.title=1>': 1\nthread-pitch: 5\n" + good
        job.write_text(bad, "utf-8")
        opened.until("document.querySelectorAll('section.faulty').length === 1")
        told = opened.ask("document.querySelector('section.faulty').innerText")
        assert f"{JOB}:2:1" in told
        assert "thread-pitch" in told
        assert opened.ask("document.images.length") == 0

        job.write_text(good, "utf-8")
        opened.until("document.querySelectorAll('section.good iframe').length === 1")
    finally:
        watch.kill()
        watch.wait()
        watch.stdout.close()
    opened.until("!document.getElementById('behind').hidden")
