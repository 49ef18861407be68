"""How long a card takes, against a bare reportlab script that draws the very same marks.

Run it with ``python tests/bench_card.py [JOB]``; it is no test and asserts nothing. The bare script
is what one would write by hand for this one card and no other: it holds the finished marks as calls
of reportlab's canvas, with the same typeface, and works nothing out. Where this is going: 1.4 times
the bare script for one cold card, 1.15 times for a warm one.
"""

from __future__ import annotations

import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path as File

from cardgen import make
from cardgen.card import place
from cardgen.card.pen import POINT, Arc, Disc, Mark, Page, Picture, Text
from cardgen.pdf import fonts

ROOT = File(__file__).parents[1]
JOB = "nipping-press-screw"
CARDS = 200
ROUNDS = 9

HEADER = """
import io
import os
from font_source_sans_pro import font_directory
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

FILES = {"regular": "SourceSansPro-Regular.ttf", "bold": "SourceSansPro-Semibold.ttf"}
for name, file in FILES.items():
    pdfmetrics.registerFont(TTFont(name, os.path.join(font_directory, file)))


def card():
    out = io.BytesIO()
    c = Canvas(out, invariant=1, pageCompression=1, initialFontName="regular")
"""


def calls(mark: Mark, height: float) -> list[str]:
    """Return the canvas calls for one mark."""
    k = 1 / POINT

    def x(value: float) -> str:
        return f"{value * k:.2f}"

    def y(value: float) -> str:
        return f"{(height - value) * k:.2f}"

    lines = []
    if isinstance(mark, Text):
        put = {"start": "drawString", "middle": "drawCentredString", "end": "drawRightString"}
        ink = mark.ink
        lines.append(f"c.setFillColorRGB({ink.red}, {ink.green}, {ink.blue})")
        lines.append(f"c.setFont({mark.weight!r}, {mark.size})")
        if mark.angle:
            lines += ["c.saveState()", f"c.translate({x(mark.x)}, {y(mark.y)})"]
            lines.append(f"c.rotate({mark.angle})")
            lines.append(f"c.{put[mark.anchor]}(0, 0, {mark.text!r})")
            lines.append("c.restoreState()")
        else:
            lines.append(f"c.{put[mark.anchor]}({x(mark.x)}, {y(mark.y)}, {mark.text!r})")
        return lines
    stroke, fill = mark.stroke, None if isinstance(mark, Arc) else mark.fill
    if stroke is not None:
        lines.append(f"c.setStrokeColorRGB({stroke.red}, {stroke.green}, {stroke.blue})")
        lines.append(f"c.setLineWidth({mark.width * k:.3f})")
        lines.append(f"c.setDash({[round(part * k, 2) for part in mark.dash]})")
    if fill is not None:
        lines.append(f"c.setFillColorRGB({fill.red}, {fill.green}, {fill.blue})")
    drawn = f"stroke={int(stroke is not None)}, fill={int(fill is not None)}"
    if isinstance(mark, Disc):
        lines.append(f"c.circle({x(mark.x)}, {y(mark.y)}, {x(mark.radius)}, {drawn})")
    elif isinstance(mark, Arc):
        box = f"{x(mark.x - mark.radius)}, {y(mark.y + mark.radius)}, "
        box += f"{x(mark.x + mark.radius)}, {y(mark.y - mark.radius)}"
        lines.append(f"c.arc({box}, {mark.start}, {mark.extent})")
    elif len(mark.points) == 2 and not mark.closed:
        (x1, y1), (x2, y2) = mark.points
        lines.append(f"c.line({x(x1)}, {y(y1)}, {x(x2)}, {y(y2)})")
    else:
        lines.append("p = c.beginPath()")
        for step, (u, v) in zip(
            ["moveTo"] + ["lineTo"] * len(mark.points), mark.points, strict=False
        ):
            lines.append(f"p.{step}({x(u)}, {y(v)})")
        if mark.closed:
            lines.append("p.close()")
        lines.append(f"c.drawPath(p, {drawn})")
    return lines


def bare(picture: Picture) -> str:
    """Return the bare script as a module with one function ``card() -> bytes``."""

    def page(sheet: Page) -> list[str]:
        size = f"c.setPageSize(({sheet.width / POINT:.2f}, {sheet.height / POINT:.2f}))"
        drawn = [line for mark in sheet.marks for line in calls(mark, sheet.height)]
        return [size, *drawn, "c.showPage()"]

    body = [line for sheet in picture.pages for line in page(sheet)]
    body += ["c.save()", "return out.getvalue()"]
    return HEADER + "".join(f"    {line}\n" for line in body)


def best(run: Callable[[], object], rounds: int = ROUNDS) -> float:
    """Return the median time of some runs [s]."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        run()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def command(*words: str, home: File) -> None:
    subprocess.run(
        [sys.executable, *words],
        cwd=home,
        check=True,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        env=os.environ | {"PYTHONPATH": f"{home}{os.pathsep}{ROOT}"},
    )


def many(home: File, job: File) -> File:
    """Write jobs that differ in their names and lengths into a folder, and return it."""
    folder = home / "specs" / "many"
    folder.mkdir()
    text = job.read_text("utf-8")
    for number in range(CARDS):
        name = f"{job.stem}-{number:03d}"
        (folder / f"{name}.yaml").write_text(text.replace(f"job: {job.stem}", f"job: {name}"))
    return folder


def main() -> None:
    """Print the ratios of one run."""
    name = sys.argv[1] if len(sys.argv) > 1 else JOB
    with tempfile.TemporaryDirectory() as made:
        home = File(made)
        for folder in ("specs", "templates"):
            shutil.copytree(ROOT / folder, home / folder)
        job = home / "specs" / "jobs" / f"{name}.yaml"
        os.chdir(home)
        worked = make.work(job)
        picture = place.lay_out(
            worked.sheets,
            make.facts(worked),
            worked.job.template,
            fonts.metrics(),
            inch=worked.job.inch,
            show=worked.job.show,
        )
        marks = sum(len(page.marks) for page in picture.pages)
        print(
            f"{name}: {len(picture.pages)} cards of {marks} marks, {len(make.draw(worked))} bytes"
        )

        (home / "bare_card.py").write_text(bare(picture))
        (home / "bare_one.py").write_text(
            "from pathlib import Path\nimport bare_card\n"
            "Path('bare.pdf').write_bytes(bare_card.card())\n"
        )
        (home / "bare_many.py").write_text(
            "from pathlib import Path\nimport bare_card\n"
            f"for n in range({CARDS}):\n    Path(f'bare-{{n}}.pdf').write_bytes(bare_card.card())\n"
        )
        sys.path.insert(0, str(home))
        import bare_card  # type: ignore[import-not-found]

        numbers = iter(range(10**6))

        def ours() -> None:
            out = f"out-{next(numbers)}"
            command("-m", "cardgen", "make", str(job), "--out", out, home=home)

        def theirs() -> None:
            command("bare_one.py", home=home)

        report("one cold card", ours, theirs)
        report("one warm card", lambda: make.draw(make.work(job)), bare_card.card)
        report("  its PDF alone", lambda: make.draw(worked), bare_card.card)
        folder = many(home, job)

        def all_ours() -> None:
            command("-m", "cardgen", "make", str(folder), "--out", "out-many", home=home)

        report(f"{CARDS} cards", all_ours, lambda: command("bare_many.py", home=home), rounds=1)


def report(
    what: str, ours: Callable[[], object], bare: Callable[[], object], rounds: int = ROUNDS
) -> None:
    if rounds > 1:
        ours()
        bare()
    one, other = best(ours, rounds), best(bare, rounds)
    print(f"{what:16} {one * 1e3:9.1f} ms, bare {other * 1e3:9.1f} ms, ratio {one / other:.2f}")


if __name__ == "__main__":
    main()
