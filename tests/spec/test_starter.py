"""The starter job can be cut as it stands, for every form there is."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardgen.cli import main
from cardgen.sheets import every
from cardgen.spec.keys.words import FORMS, forms
from cardgen.spec.load import load
from cardgen.spec.starter import starter
from tests.spec.shop_floor import lay_out


@pytest.mark.parametrize("form", forms())
def test_a_starter_loads(tmp_path: Path, form: str) -> None:
    job = load(lay_out(tmp_path, starter("my-first-job", form)))
    assert job.name == "my-first-job"
    assert job.thread.form.partition("+")[0] == form


@pytest.mark.parametrize("form", forms())
def test_a_starter_can_be_cut_on_the_bench_lathe(tmp_path: Path, form: str) -> None:
    path = lay_out(tmp_path, starter("my-first-job", form))
    lathe = Path(__file__).parents[2] / "specs" / "machines" / "bench-metric.yaml"
    findings = every.work_out(load(path, machine=lathe)).findings
    assert not [finding.text for finding in findings if finding.refuses]
    # Its size is one that taps and gauges are sold for.
    assert not [finding.text for finding in findings if finding.id == "thread.unlisted"]


def test_an_empty_folder_becomes_a_shop(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["new", "vice-screw"]) == 0
    assert "cardgen new --machine NAME" in capsys.readouterr().err
    assert main(["check", "vice-screw"]) == 3
    assert "cardgen new --machine NAME" in capsys.readouterr().err
    assert main(["new", "--machine", "my-lathe"]) == 0
    assert sorted(capsys.readouterr().out.split()) == [
        "specs/machines/my-lathe.yaml",
        "specs/shop.yaml",
    ]
    assert load(Path("specs/jobs/vice-screw.yaml")).machine.name == "my-lathe"
    # Both starters go together as they are: the first card comes before the first measurement.
    assert main(["make", "vice-screw"]) == 0
    capsys.readouterr()
    # A lathe of which little is known is taken for a weak one; the refusal says what was assumed.
    lathe = Path("specs/machines/my-lathe.yaml")
    lathe.write_text(lathe.read_text(encoding="utf-8").replace("  power:", "  # power:"))
    assert main(["check", "vice-screw"]) == 1
    assert "assumed: a motor of" in capsys.readouterr().err
    shop = Path("specs/shop.yaml").read_text(encoding="utf-8")
    assert main(["new", "--machine", "other-lathe"]) == 0
    assert Path("specs/shop.yaml").read_text(encoding="utf-8") == shop, "the first machine stays"
    assert load(Path("specs/jobs/vice-screw.yaml"), machine="specs/machines/other-lathe.yaml")


def test_what_is_commented_out_loads_too(tmp_path: Path) -> None:
    lines = starter("other").splitlines()
    whole = [
        line.replace("# ", "", 1) if ": " in line and line.lstrip().startswith("# ") else line
        for line in lines[1:]
        if "The machine of" not in line
    ]
    whole = [line.replace("#   - ", "  - ", 1) for line in whole]
    text = "\n".join(whole).replace("# heat:", "heat:")
    job = load(lay_out(tmp_path, text))
    assert job.thread.starts == 2
    assert job.thread.hand == "left"
    assert len(job.heat) == 2
    assert job.duty is not None


@pytest.mark.parametrize("name", ["", "../x", "a/b", "a b", "x" * 70, ".", "a.b", "ü"])
def test_a_name_that_is_none_is_refused(name: str) -> None:
    with pytest.raises(ValueError, match="cannot name a job"):
        starter(name)


@pytest.mark.parametrize("form", [*sorted(set(FORMS) - set(forms())), "acmee", ""])
def test_a_form_that_is_not_worked_out_is_refused(form: str) -> None:
    with pytest.raises(ValueError, match=r"take one of acme, ba, .*worm"):
        starter("job", form)
