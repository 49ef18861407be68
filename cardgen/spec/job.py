"""What a job is, once it has passed the door: frozen records of plain values.

Lengths are in mm, angles in radians unless the name ends in ``_deg``, speeds in 1/min, powers in
W, stresses in MPa, temperatures in degC, times in s. Pitches are kept as exact fractions of a
millimetre too, because wheels are counted, not measured.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from cardgen.core.problems import Place
from cardgen.forms.custom import Profile
from cardgen.spec.lathe import Machine
from cardgen.spec.substance import Material

Hand = Literal["right", "left"]
Holding = Literal["chuck", "chuck-and-centre", "between-centres"]
Rest = Literal["none", "steady", "follow"]
ThreadEnd = Literal["groove", "shoulder", "open"]
Infeed = Literal["auto", "plunge", "flank", "alternate", "rough-then-form", "widen"]
Axis = Literal["parallel", "set-over"]
Way = Literal["push", "pull"]
Ends = Literal["free", "pinned", "fixed"]
HeatWord = Literal[
    "normalise", "harden", "temper", "stress-relieve", "blacken", "oil-black", "cold-blue", "wax"
]


@dataclass(frozen=True, slots=True)
class Thread:
    """The thread as asked for.

    Attributes
    ----------
    form
        Name of a file in ``forms``: ``square``, ``acme``, ``trapezoidal``, ``metric``.
    diameter
        Nominal diameter [mm].
    pitch_exact
        Axial pitch as an exact fraction of a millimetre.
    class_
        Tolerance class of the standard; empty where the form has none.
    inch
        Whether the pitch was given in threads per inch.
    series
        Of a Unified thread; empty for other forms.
    profile
        As stated, of a custom thread.
    module
        Of a worm given by it [mm].
    diametral_pitch
        Of a worm given by it, teeth per inch.
    """

    form: str
    surface: Literal["external", "internal"]
    diameter: float
    pitch_exact: Fraction
    starts: int
    hand: Hand
    class_: str
    length: float
    inch: bool
    series: str = ""
    profile: Profile | None = None
    module: float | None = None
    diametral_pitch: float | None = None

    @property
    def pitch(self) -> float:
        """Axial pitch [mm]."""
        return float(self.pitch_exact)

    @property
    def lead_exact(self) -> Fraction:
        """Axial travel in one turn, exact [mm]."""
        return self.pitch_exact * self.starts

    @property
    def lead(self) -> float:
        """Axial travel in one turn [mm]."""
        return float(self.lead_exact)


@dataclass(frozen=True, slots=True)
class Mate:
    """The part that runs on the thread.

    Attributes
    ----------
    length
        Engagement [mm]; ``None`` if not stated.
    class_
        Tolerance class of the mate; empty for the usual one.
    teeth
        Of a rack; ``None`` if not stated.
    width
        Face of a rack [mm]; ``None`` for as wide as the screw reaches.
    axis
        How the screw's axis lies to a rack's travel: ``parallel``, or ``set-over`` by the lead
        angle, so that the teeth stand square to the travel.
    """

    kind: Literal["nut", "rack"]
    length: float | None
    material: Material | None
    class_: str
    teeth: int | None = None
    width: float | None = None
    axis: Axis = "parallel"


@dataclass(frozen=True, slots=True)
class Work:
    """The bar and how it is held.

    Attributes
    ----------
    stock
        Diameter of the bar [mm].
    stickout
        Jaw face (or live centre's face) to the far end [mm].
    groove
        Width of the run-out groove [mm]; ``None`` unless ``thread_end`` is ``groove``.
    blind
        Depth of a nut's hole from its free face [mm]; ``None`` for a hole that goes through, and
        for a screw.
    cut_towards
        Which way the tool goes; ``None`` for the way that the hand asks of a spindle that runs
        forwards: towards the chuck for a right hand.
    """

    material: Material
    stock: float
    holding: Holding
    stickout: float
    rest: Rest
    thread_end: ThreadEnd
    groove: float | None
    blind: float | None = None
    cut_towards: Literal["chuck", "tailstock"] | None = None


@dataclass(frozen=True, slots=True)
class Tool:
    """The cutter to be ground.

    Attributes
    ----------
    blank
        Side of the square blank [mm]; for a nut, of the bit that its boring bar holds.
    wires
        Pins or wires owned [mm], smallest first; for a nut, balls.
    bar
        Diameter of the boring bar [mm]; ``None`` for the largest that passes.
    overhang
        Length of the boring bar from its holder to the point [mm]; ``None`` for the shortest.
    """

    material: Literal["hss", "hss-cobalt", "carbide"]
    blank: float
    setting: Literal["level", "tipped"]
    infeed: Infeed
    wires: tuple[float, ...]
    bar: float | None = None
    overhang: float | None = None


@dataclass(frozen=True, slots=True)
class HeatStep:
    """One step of the heat treatment, in the order asked for.

    Attributes
    ----------
    step
        A heat, or a finish: ``blacken`` by heat, ``oil-black``, ``cold-blue`` or ``wax``.
    temperature
        [degC]; ``None`` where the steel's own data shall say.
    time
        At heat [s]; ``None`` where practice shall say.
    hardness
        Rockwell C asked for after this step; ``None`` if not stated.
    furnace
        What it is heated in: ``muffle``, ``oven`` or ``fan-oven``; empty for the usual one.
    quench
        Bath of a hardening: ``water``, ``brine``, ``oil`` or ``air``; empty for the steel's own.
    """

    step: HeatWord
    temperature: float | None
    time: float | None
    hardness: float | None
    place: Place | None
    furnace: str = ""
    quench: str = ""


@dataclass(frozen=True, slots=True)
class Duty:
    """What the screw must do.

    Attributes
    ----------
    load
        Axial load [N].
    handle
        Length of the handle, axis to hand [mm]; ``None`` if not stated.
    friction
        Coefficient of friction in the thread; ``None`` for the pair's published range.
    collar
        Mean diameter of the collar or pad that turns under the load [mm]; ``None`` without one.
    collar_friction
        Coefficient of friction there; ``None`` for that of the thread.
    way
        Whether the load pushes the screw together or pulls it apart.
    ends
        How a pushed screw is held: ``free`` at one end, ``pinned`` at both or ``fixed`` at both.
    free_length
        Between its supports [mm]; ``None`` for the length of the thread.
    turns
        At which it is turned under load [1/min]; ``None`` for slowly, by hand.
    """

    load: float
    handle: float | None
    friction: float | None
    collar: float | None = None
    collar_friction: float | None = None
    way: Way = "push"
    ends: Ends = "pinned"
    free_length: float | None = None
    turns: float | None = None


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole that is punched into a card: its centre from the upper left corner, its diameter.

    All in mm.
    """

    x: float
    y: float
    diameter: float


@dataclass(frozen=True, slots=True)
class Template:
    """The shape of a card. Lengths in mm, type sizes in points.

    Attributes
    ----------
    width, height
        Trimmed card.
    margin
        Clear of print on every side, inside the seal edge.
    seal_edge
        Film that stands over the card's edge; informs the trim note only.
    columns
        Number of columns of equal width.
    order
        Panels in the order in which they are placed.
    body, dial, head, small
        Type sizes: running text and tables; numbers that are dialled in; titles; the smallest
        that may occur.
    ink
        ``colour`` or ``mono``.
    holes
        Where it is punched.
    taken
        What the holes take from the left, the top, the right and the bottom.
    corners
        Radius to which its corners are cut.
    trim
        What is drawn on its edge: ``none``, ``corners`` or ``outline``.
    record_line
        Height of a line that is written by hand.
    """

    name: str
    title: str
    width: float
    height: float
    margin: float
    seal_edge: float
    columns: int
    order: tuple[str, ...]
    body: float
    dial: float
    head: float
    small: float
    ink: Literal["colour", "mono"]
    holes: tuple[Hole, ...] = ()
    taken: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    corners: float = 0.0
    trim: Literal["none", "corners", "outline"] = "none"
    record_line: float = 8.5


@dataclass(frozen=True, slots=True)
class Assumed:
    """A default that the job did not state and the card must name.

    Attributes
    ----------
    key
        Key path, such as ``work.holding``.
    text
        What was assumed, in words.
    """

    key: str
    text: str


@dataclass(frozen=True, slots=True)
class Source:
    """One file that went into a job, kept byte for byte to be embedded in the card.

    Attributes
    ----------
    role
        ``job``, ``machine``, ``shop``, ``material`` or ``template``.
    name
        Path as given, relative to the job's folder where possible.
    content
        The file's bytes.
    """

    role: str
    name: str
    content: bytes


@dataclass(frozen=True, slots=True)
class Job:
    """Everything that one card is made from.

    Attributes
    ----------
    inch
        Whether the card shows inches first.
    language
        Of the card's words, as a BCP 47 tag.
    comma
        Whether the card sets decimals off by a comma.
    places
        Key path to its place in the job file, or for the wires in the shop's; a key that is
        absent was assumed.
    sources
        The files behind the job, job file first.
    """

    name: str
    title: str
    note: str
    date: str
    file: str
    inch: bool
    thread: Thread
    mate: Mate | None
    work: Work
    tool: Tool
    machine: Machine
    heat: tuple[HeatStep, ...]
    duty: Duty | None
    template: Template
    show: tuple[str, ...]
    assumed: tuple[Assumed, ...]
    places: Mapping[str, Place]
    sources: tuple[Source, ...]
    language: str = "en"
    comma: bool = False

    @property
    def outwards(self) -> bool:
        """Whether the tool goes away from the chuck."""
        usual = "tailstock" if self.thread.hand == "left" else "chuck"
        return (self.work.cut_towards or usual) == "tailstock"

    @property
    def backwards(self) -> bool:
        """Whether the spindle runs backwards, with the tool upside down, to cut that way."""
        return self.outwards != (self.thread.hand == "left")
