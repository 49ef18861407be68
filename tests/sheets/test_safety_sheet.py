"""Safety notes: the data file is sound, and each note comes when it is called for."""

from __future__ import annotations

import tomllib
from dataclasses import replace

import pytest

from cardgen import library
from cardgen.core.figure import Sheet
from cardgen.sheets import safety
from cardgen.spec.job import Duty
from tests.parts import in_brass, job, material, step, thread, worked

DATA = tomllib.loads(library.text("safety/notes.toml"))
CLOSING = "Local rules and licensed practice come first."


def signals(sheet: Sheet) -> list[str]:
    return [note.kind for note in sheet.steps]


def texts(sheet: Sheet) -> str:
    return "\n".join(note.text for note in sheet.steps)


def test_every_note_is_sound() -> None:
    ids = [note["id"] for note in DATA["note"]]
    assert len(ids) == len(set(ids))
    for note in DATA["note"]:
        assert note["signal"] in safety.SIGNALS
        assert set(note["when"]) <= set(safety.TAGS), note["id"]
        assert note["when"]
        assert note["source"]
        assert note["text"].count(".") <= 4
        assert note["evidence"] in ("read", "practice", "memory")
        assert ("from memory" in note["source"]) == (note["evidence"] == "memory"), note["id"]
        assert len(note["text"]) <= 190, note["id"]


def test_every_tag_is_used() -> None:
    used = {tag for note in DATA["note"] for tag in note["when"]}
    assert used == set(safety.TAGS)


def test_worst_first_and_the_closing_line_last() -> None:
    heats = (step("harden"), step("temper", 320, 3600), step("blacken", 300))
    sheet = worked(job(heats=heats, duty=Duty(8000, 300, 0.12)))["safety"]
    order = [safety.SIGNALS.index(kind) for kind in signals(sheet)[:-1]]
    assert order == sorted(order)
    assert sheet.steps[-1].text == CLOSING
    assert sheet.steps[-1].kind == "rule"


def test_a_plain_job_has_few_notes() -> None:
    sheet = worked(job())["safety"]
    assert 3 <= len(sheet.steps) <= 7
    assert "quench" not in texts(sheet)


@pytest.mark.parametrize(
    ("screw", "words"),
    [("c45", "water quench"), ("o1", "Quench oil"), ("42crmo4", "Quench oil")],
)
def test_quench_notes(screw: str, words: str) -> None:
    heats = (step("harden"), step("temper", 300, 3600))
    assert words in texts(worked(job(screw, heats=heats))["safety"])


def test_notes_by_material() -> None:
    assert "lead" in texts(worked(job("11smnpb30"))["safety"])
    assert "lead" in texts(worked(job(nut="c93200"))["safety"])
    assert "lead" not in texts(worked(job())["safety"]).replace("leave", "")
    assert "thermite" in texts(worked(job("6082"))["safety"])
    assert "cut dry" in texts(worked(job(nut="gjl-250"))["safety"])
    assert "formaldehyde" in texts(worked(job(nut="acetal"))["safety"])
    hot = job("11smnpb30", heats=(step("blacken"),))
    assert "do not heat it indoors" in texts(worked(hot)["safety"])
    assert "lead" in texts(worked(in_brass(job()))["safety"])


def test_notes_by_holding_hand_and_load() -> None:
    assert "chuck" in texts(worked(job())["safety"])
    centres = texts(worked(job(holding="between-centres"))["safety"])
    assert "dog" in centres
    assert "chuck before" not in centres
    assert "whip" in texts(worked(job(holding="chuck"))["safety"])
    assert "Left-hand" in texts(worked(job(hand="left"))["safety"])
    assert "people" in texts(worked(job(duty=Duty(8000, None, 0.12)))["safety"])
    loose = job(pitch=6, diameter=32, starts=2, duty=Duty(8000, None, 0.12))
    assert "turn this screw back" in texts(worked(loose)["safety"])


def test_notes_by_figures_of_the_setup() -> None:
    of = job()
    known = Sheet("setup", thread(of))
    known.add("setup.time_to_stop", 1.5, source="x", basis="computed")
    known.add("setup.dial_marks", "keep the half-nut closed", source="x", basis="computed")
    sheet = Sheet("safety", {**known.known, **known.figures})
    safety.work_out(of, sheet)
    said = texts(sheet)
    assert "Only 1.5 s from start to stop" in said
    assert "unwind" in said
    assert "Draw the tool out" in said
    still = replace(of, machine=replace(of.machine, reverse=False))
    sheet = Sheet("safety", {**known.known, **known.figures})
    safety.work_out(still, sheet)
    assert "unwind" not in texts(sheet)


def test_shipped_leaded_metals_say_so() -> None:
    """The note goes by the composition; the metals that are known to hold lead must state it."""
    for name in ("11smnpb30", "c93200", "cw614n", "c360"):
        assert material(name).composition.get("Pb", 0) > 0.1
