"""The one door: a job file in, a :class:`~cardgen.spec.job.Job` out, or every problem at once."""

from __future__ import annotations

import os
import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeVar

from cardgen.core.problems import Place, Problem, SpecError, nearest
from cardgen.spec import assemble
from cardgen.spec import machine as machines
from cardgen.spec import material as materials
from cardgen.spec import template as templates
from cardgen.spec.check import check
from cardgen.spec.find import File, near_names, record_name, shipped, upward
from cardgen.spec.fit import MOST, Answers, fit
from cardgen.spec.job import Assumed, Job, Source, Template
from cardgen.spec.keys import job as job_keys
from cardgen.spec.keys import shop as shop_keys
from cardgen.spec.keys.words import NAME
from cardgen.spec.lathe import Machine
from cardgen.spec.outcome import Outcome
from cardgen.spec.read import tree
from cardgen.spec.shape import Keys
from cardgen.spec.substance import Material
from cardgen.spec.text import UnreadableError, content
from cardgen.spec.thread import thread as read_thread

USUAL_TEMPLATE = "a5-two-column"

# The key by which a file of another kind is known.
_MARKS = {"machine": "leadscrew", "material": "cutting", "template": "order", "shop": "paper"}

Record = TypeVar("Record")


def load(
    path: str | Path,
    *,
    machine: str | Path | None = None,
    template: str | None = None,
    home: str | Path | None = None,
) -> Job:
    """Read a job file and all that it refers to.

    Parameters
    ----------
    path
        The job file.
    machine
        A machine file that takes the place of the one named in job or shop file.
    template
        Name of a template that takes the place of the one named there.
    home
        The folder above which nothing is looked for.

    Raises
    ------
    SpecError
        With every problem of every file: nothing is loaded in part.
    """
    door = _Door(Path(path), None if home is None else Path(home))
    job = door.load(None if machine is None else Path(machine), template)
    if job is None or door.problems:
        raise SpecError(_first(door.problems))
    return job


def spoken(folder: Path) -> tuple[str, bool]:
    """Return language and decimal comma of what is printed for a shop and for no job of it.

    Parameters
    ----------
    folder
        From which the shop file is looked for upwards.

    Raises
    ------
    SpecError
        If the shop file is faulty.
    """
    path = upward(folder, "shop.yaml", None)
    if path is None:
        return _speech()
    door = _Door(folder / "shop.yaml", None)
    shop = door.answers("shop", path, shop_keys.keys())
    if shop is None or shop.problems:
        raise SpecError(_first(door.problems + ([] if shop is None else shop.problems)))
    return _speech(shop)


def _speech(*said: Answers | None) -> tuple[str, bool]:
    """Return language and decimal comma as the first of some files states them."""

    def first(key: str) -> str | None:
        return next(filter(None, (each.text(key) for each in said if each is not None)), None)

    language, decimals = first("language") or "en", first("decimals")
    return language, decimals == "comma" if decimals else language != "en"


def _first(problems: list[Problem]) -> list[Problem]:
    """Return the problems that a person can take in, and one that counts the others."""
    ordered = list(SpecError(problems).problems)
    if len(ordered) <= MOST + 1:
        return ordered
    place = ordered[MOST].place
    further = f"{len(ordered) - MOST} more faults follow"
    return [*ordered[:MOST], Problem(place, "", further, "none", "mend these first")]


@dataclass(slots=True)
class _Door:
    """What has been read so far for one job."""

    path: Path
    home: Path | None
    problems: list[Problem] = field(default_factory=list)
    assumed: list[Assumed] = field(default_factory=list)
    sources: dict[str, Source] = field(default_factory=dict)

    @property
    def folder(self) -> Path:
        return self.path.parent

    def load(self, machine: Path | None, template: str | None) -> Job | None:
        """Return the job; ``None`` if anything is wrong, which ``problems`` then tells."""
        said = self.answers("job", self.path, job_keys.keys())
        shop_path = upward(self.folder, "shop.yaml", self.home)
        shop = None if shop_path is None else self.answers("shop", shop_path, shop_keys.keys())
        lathe = self._machine(machine, said, shop, shop_path)
        shape = self._template(template, said, shop)
        if shop is not None:
            self.problems += shop.problems
        if said is None:
            return None
        bar = self._material(said, "work.material")
        nut = self._material(said, "mate.material")
        check(said)
        thread = read_thread(said, self.assumed)
        work = None
        if thread is not None and bar is not None:
            work = assemble.work(said, thread, bar, self.assumed)
        self.problems += said.problems
        if self.problems or thread is None or work is None or lathe is None or shape is None:
            return None
        wires = () if shop is None else tuple(shop.number(p) or 0.0 for p in shop.items("wires"))
        units = said.text("units") or (None if shop is None else shop.text("units"))
        inch = lathe.cross_slide.inch if units is None else units == "in"
        language, comma = _speech(said, shop)
        name = said.text("job") or ""
        show = tuple(said.text(p) or "" for p in said.items("card.show"))
        return Job(
            name=name,
            title=said.text("title") or name,
            note=said.text("note") or "",
            date=said.text("card.date") or said.text("date") or "",
            file=str(self.path),
            inch=inch,
            language=language,
            comma=comma,
            thread=thread,
            mate=assemble.mate(said, nut, self.assumed),
            work=work,
            tool=assemble.tool(said, thread, wires, lathe.cross_slide.inch, self.assumed),
            machine=lathe,
            heat=assemble.heat(said),
            duty=assemble.duty(said),
            template=shape,
            show=show or shape.order,
            assumed=tuple(self.assumed),
            places=_with_wires(said, shop),
            sources=tuple(self.sources.values()),
        )

    def answers(self, role: str, path: Path, shape: Keys) -> Answers | None:
        try:
            file = self._file(path)
            root = tree(file.content, file.shown)
        except UnreadableError as error:
            self.problems += error.problems
            return None
        self._keep(role, file)
        if role == "job" and "job" not in root.entries:
            other = next((kind for kind, mark in _MARKS.items() if mark in root.entries), None)
            if other is not None:
                found = f"this is a {other} file, not a job"
                allowed = "a job file, with the keys cardgen, job, thread and work"
                self.problems.append(Problem(root.place, "", found, allowed))
                return None
        return fit(root, shape, file.shown)

    def _file(self, path: Path) -> File:
        shown = str(path)
        return File(shown, record_name(path, self.folder), content(path, shown))

    def _keep(self, role: str, file: File) -> None:
        self.sources.setdefault(file.name, Source(role, file.name, file.content))

    def _take(self, outcome: Outcome[Record]) -> Record | None:
        known = {(p.place, p.key, p.found) for p in self.problems}
        self.problems += [p for p in outcome.problems if (p.place, p.key, p.found) not in known]
        self.assumed += [item for item in outcome.assumed if item not in self.assumed]
        return outcome.record

    # --- the machine --------------------------------------------------------------------------

    def _machine(
        self,
        path: Path | None,
        said: Answers | None,
        shop: Answers | None,
        shop_path: Path | None,
    ) -> Machine | None:
        asked: tuple[Answers, str] | None = None
        if path is None and said is not None and said.written("machine"):
            path, asked = self._beside(said, self.folder), (said, "machine")
        elif path is None and shop is not None and shop_path is not None:
            path, asked = self._beside(shop, shop_path.parent), (shop, "machine")
            if path is None and not shop.written("machine"):
                asked = None
        if path is None:
            lost = shop_path is not None and shop is None
            if asked is None and said is not None and not lost:
                said.fault(
                    "machine",
                    "no machine is named, neither here nor in a shop.yaml above",
                    "machine: ../machines/NAME.yaml",
                    "cardgen new --machine NAME writes one to fill in",
                )
            return None
        try:
            file = self._file(path)
        except UnreadableError as error:
            if asked is None:
                self.problems += error.problems
            else:
                found = f"{path}: {error.problems[0].found}"
                beside = sorted(other.name for other in path.parent.glob("*.yaml"))
                near = nearest(path.name, beside)
                mend = f"did you mean {near}?" if near else ""
                known = upward(self.folder, f"machines/{path.name}", self.home)
                if known is not None:
                    base = (
                        self.folder if asked[0] is said or shop_path is None else shop_path.parent
                    )
                    mend = f"write {Path(os.path.relpath(known, base)).as_posix()}"
                asked[0].fault(asked[1], found, "a machine file, relative to this file", mend)
            return None
        self._keep("machine", file)
        return self._take(machines.machine(file.content, file.shown, file.name))

    def _beside(self, said: Answers, folder: Path) -> Path | None:
        text = said.text("machine")
        return None if text is None else Path(os.path.normpath(folder / text))

    # --- materials and templates, which have names --------------------------------------------

    def _material(self, said: Answers, key: str) -> Material | None:
        name = said.text(key)
        if name is None:
            return None
        try:
            file = self._named("materials", name)
        except UnreadableError as error:
            self.problems += error.problems
            return None
        if file is None:
            known, near = near_names(self.folder, "materials", name, self.home)
            said.fault(
                key,
                f"there is no material {name}",
                f"a file materials/{name}.yaml, or one of {known}",
                f"did you mean {near}?" if near else f"describe it in specs/materials/{name}.yaml",
            )
            return None
        self._keep("material", file)
        stem = Path(file.name).stem
        return self._take(materials.material(file.content, file.shown, stem))

    def _named(self, kind: str, name: str) -> File | None:
        for spelled in dict.fromkeys((name, name.lower())):
            path = upward(self.folder, f"{kind}/{spelled}.yaml", self.home)
            if path is not None:
                return self._file(path)
        for spelled in dict.fromkeys((name, name.lower())):
            found = shipped(kind, spelled)
            if found is not None:
                return found
        return materials.by_other_name(name) if kind == "materials" else None

    def _template(
        self, name: str | None, said: Answers | None, shop: Answers | None
    ) -> Template | None:
        asked: tuple[Answers, str] | None = None
        if name is None:
            for answers, key in ((said, "card.template"), (shop, "template")):
                if answers is not None and answers.written(key):
                    name, asked = answers.text(key), (answers, key)
                    if name is None:
                        return None
                    break
        name = USUAL_TEMPLATE if name is None else name
        try:
            file = self._named("templates", name) if _is_name(name) else None
        except UnreadableError as error:
            self.problems += error.problems
            return None
        if file is None:
            known, near = near_names(self.folder, "templates", name, self.home)
            found = f"there is no template {name[:60]}"
            allowed = f"one of {known}"
            mend = f"did you mean {near}?" if near else ""
            if asked is not None:
                asked[0].fault(asked[1], found, allowed, mend)
            else:
                place = Place(str(self.path), 1, 1)
                self.problems.append(Problem(place, "card.template", found, allowed, mend))
            return None
        self._keep("template", file)
        return self._take(templates.template(file.content, file.shown, Path(file.name).stem))


def _with_wires(said: Answers, shop: Answers | None) -> dict[str, Place]:
    """Return the places of the job's keys, and of the shop's wires where the job names none."""
    if shop is None or "wires" not in shop.places or "tool.wires" in said.places:
        return said.places
    return {**said.places, "tool.wires": shop.places["wires"]}


def _is_name(text: str) -> bool:
    return len(text) <= NAME.longest and re.fullmatch(NAME.pattern, text) is not None
