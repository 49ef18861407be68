"""The starter job loads as it stands, for every form there is."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardgen.spec.keys.words import FORMS, forms
from cardgen.spec.load import load
from cardgen.spec.starter import starter
from tests.spec.shop_floor import lay_out


@pytest.mark.parametrize("form", forms())
def test_a_starter_loads(tmp_path: Path, form: str) -> None:
    job = load(lay_out(tmp_path, starter("my-first-job", form)))
    assert job.name == "my-first-job"
    assert job.thread.form.partition("+")[0] == form


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
