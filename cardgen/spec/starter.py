"""A commented starter job: every key that matters, filled in so that it loads as it stands."""

from __future__ import annotations

import re
from typing import NamedTuple

from cardgen.core.problems import nearest
from cardgen.spec.keys.words import FORMS, NAME, forms
from cardgen.spec.meant import line

_THREADS = {
    "trapezoidal": """\
  diameter: 28 mm           # or, in the standard's words, size: "Tr 28x5"
  pitch: 5 mm               # the preferred one for the diameter if left out
  class: 7e                 # 7e, 8e, 8c or 9c
""",
    "acme": """\
  size: "1-5 ACME-2G"       # or diameter: 1 in, pitch: 5 tpi, class: 2G; 2C is centralizing
""",
    "metric": """\
  size: "M20x2.5-6g"        # or diameter: 20 mm, pitch: 2.5 mm, class: 6g
""",
    "whitworth": """\
  size: "1 BSW"             # or diameter: 1 in, series: BSW (or BSF), class: medium
""",
    "pipe-parallel": """\
  size: "G 3/4 A"           # the pipe's name, not a diameter; class A or B
""",
    "ba": """\
  size: "0 BA"              # or 2 BA, and so on; a centre holds so thin a bar
""",
    "buttress-metric": """\
  size: "S 28x5"            # or diameter: 28 mm, pitch: 5 mm, class: 7e
""",
    "knuckle": """\
  size: "Rd 28x1/8"         # the pitch is a part of an inch; or diameter: 28 mm, pitch: 8 tpi
""",
    "stub-acme": """\
  size: "1-5 STUB ACME"     # M1 or M2 after it, or variant: modified-1, for the modified forms
""",
    "unified": """\
  size: "1-8 UNC-2A"        # or diameter: 1 in, series: UNC (UNF UNEF UN UNS), class: 2A
""",
    "buttress-inch": """\
  size: "1-10 BUTT-2A"      # pull type: the screw pulls; PUSH-BUTT, or variant: push, if it pushes
""",
    "worm": """\
  diameter: 28 mm           # outside
  module: 2 mm              # flanks of 20 deg; or diametral-pitch: 12, or pitch: 1/4 in, 14.5 deg
""",
    "custom": """\
  diameter: 28 mm
  pitch: 6 mm
  custom:
    leading-flank: 3 deg    # faces the end that enters the mate
    trailing-flank: 30 deg
    depth: 3 mm             # radial
    # crest: 1.8 mm         # axial width; else ridge and groove are alike at half the depth
    # root-radius: 0.3 mm
    # clearance: 0.2 mm     # radial, between crests and roots of screw and nut
""",
    "square": """\
  diameter: 28 mm
  pitch: 6 mm               # or threads per inch: 4 tpi
  # variant: modified       # flanks of 5 deg, which can be ground
""",
}


class _Bar(NamedTuple):
    """A bar on which the starter's thread can be cut as it stands."""

    length: str = "120 mm"
    stock: str = "30 mm"
    stickout: str = "160 mm"
    groove: str = "10 mm"


_BARS = {"ba": _Bar("10 mm", "8 mm", "18 mm", "3 mm")}

_JOB = """\
# {name}: a job for one card. Every quantity is a number and its unit: 28 mm, 1 1/8 in, 5 tpi.
cardgen: 1
job: {name}
title: {title}
# note: Cut the nut first.

thread:
  form: {form}
{size}  # starts: 2
  # hand: left
  length: {bar.length:<17} # of full thread

# mate: {{kind: nut, length: 35 mm, material: bronze-pb1}}

work:
  material: c45             # a shipped material, or a file in specs/materials/
  stock: {bar.stock:<18} # across the bar as it is bought
  holding: chuck-and-centre # chuck, chuck-and-centre or between-centres
  stickout: {bar.stickout:<15} # jaws' face to the far end
  rest: none                # none, steady or follow
  thread-end: groove        # groove, shoulder or open
  groove: {bar.groove:<17} # its width; leave it out with shoulder and open
  # cut-towards: tailstock  # against the usual way: spindle backwards, tool upside down

tool:
  material: hss             # hss, hss-cobalt or carbide
  blank: 10 mm              # across the square of the tool bit
  # infeed: flank           # auto, plunge, flank, alternate, rough-then-form or widen
  # wires: [3.0 mm, 3.5 mm] # the pins you own

# The machine of specs/shop.yaml is used, unless you name another:
# machine: ../machines/bench-metric.yaml

# heat:                     # in order; leave out for soft work
#   - {{step: harden, hardness: 52 HRC}}
#   - {{step: temper, temperature: 320 degC, time: 1 h}}      # furnace: oven, fan-oven or muffle
#   # last a finish, no hotter than the temper - blacken, oil-black, cold-blue, wax

# duty: {{load: 8 kN, handle: 300 mm}}
"""


def starter(name: str, form: str = "trapezoidal") -> str:
    """Return the text of a starter job.

    Parameters
    ----------
    name
        Name of the job, and of its file without ending.
    form
        Thread form.

    Raises
    ------
    ValueError
        If the name is no job name, or if the form is not worked out by this version.
    """
    if len(name) > NAME.longest or not re.fullmatch(NAME.pattern, name):
        mend = line(name, NAME)
        known = f"take {NAME.meaning}, at most {NAME.longest}"
        msg = f"{name[:60]!r} cannot name a job: {mend or known}"
        raise ValueError(msg)
    if form not in forms():
        known = ", ".join(forms())
        near = nearest(form, forms())
        what = "is not worked out by this version" if form in FORMS else "is not a thread form"
        hint = f"; did you mean {near}?" if near else ""
        msg = f"{form[:60]} {what}: take one of {known}{hint}"
        raise ValueError(msg)
    size = _THREADS.get(form, _THREADS["square"])
    title = name.replace("-", " ").capitalize()
    bar = _BARS.get(form, _Bar())
    return _JOB.format(name=name, title=title, form=form, size=size, bar=bar)
