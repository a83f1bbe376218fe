"""A computed figure with its working: formula, inputs, source, and what is lacking where it is not.

A figure is made by handing a pure function of `core.calc` its inputs by name. The names of the
parameters carry their units, so the working needs no second description of them.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from core.errors import RangeError
from core.units import System, show_computed

# Endings of parameter names, the longest first, and the kind of quantity each stands for.
_KINDS_BY_ENDING = (
    ("fan_flow_m3_s", "air_flow"),
    ("effective_area_m2", "area"),
    ("bins_1_s", "bin_rate"),
    ("_1_s", "count_rate"),
    ("m3_s", "water_flow"),
    ("_kg_m3", "bulk_density"),
    ("_kg_s", "mass_flow"),
    ("fruit_mass_kg", "fruit_mass"),
    ("_kg", "mass"),
    ("altitude_m", "length"),
    ("_length_m", "length"),
    ("length_m", "length"),
    ("_kg_m2", "inertia"),
    ("_m2", "conductor"),
    ("_k", "temperature"),
    ("_share", "ratio"),
    ("_rad_s", "rotation"),
    ("_rad", "angle"),
    ("_n_m", "torque"),
    ("_m_s", "surface_speed"),
    ("_signal_a", "signal_current"),
    ("_signal_v", "voltage"),
    ("_ohm", "resistance"),
    ("_hz", "frequency"),
    ("_f", "capacitance"),
    ("_m", "size"),
    ("_v", "voltage"),
    ("_a", "current"),
    ("_heat_w", "loss_power"),
    ("_w", "power"),
    ("_s", "time"),
)
_WORDS_OF_ENDINGS = {
    "altitude_m": "altitude",
    "effective_area_m2": "effective area",
    "fan_flow_m3_s": "fan flow",
    "bins_1_s": "bins",
    "m3_s": "flow",
    "fruit_mass_kg": "fruit mass",
}
"""What a parameter is called whose whole name is an ending; else a length."""


@dataclass(frozen=True, slots=True)
class Rule:
    """How one kind of figure comes about, in words: made once, shared by every figure of it.

    ``key`` is the name in machine-readable results and carries the SI unit; it never changes.
    ``kind`` is a kind of quantity of `core.units`.
    """

    key: str
    label: str
    kind: str
    formula: str
    source: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Given:
    """One input of a working: a number, whose name carries the SI unit, or a word."""

    name: str
    value: float | str

    @property
    def label(self) -> str:
        """The name as words, without its unit."""
        return words_of(self.name)

    @property
    def kind(self) -> str:
        """Kind of quantity, for showing the value."""
        return kind_of(self.name)

    def shown(
        self, system: System, show: Callable[[float, str, System], object] = show_computed
    ) -> str:
        """The value with its unit; a word as it stands."""
        if isinstance(self.value, str):
            return self.value
        return str(show(self.value, self.kind, system))


@dataclass(frozen=True, slots=True)
class Figure:
    """One computed figure.

    ``value`` is in SI, or None where ``lacks`` names what was not entered or ``problem`` says why
    the inputs give no figure. ``estimate`` marks a figure that rests on an assumption, which
    ``assumed`` names.
    """

    rule: Rule
    value: float | None
    inputs: Mapping[str, float | str | None] = field(default_factory=dict)
    lacks: tuple[str, ...] = ()
    problem: str = ""
    assumed: str = ""

    @property
    def given(self) -> tuple[Given, ...]:
        """What it was computed from; put together when somebody asks, as few do."""
        return tuple(Given(name, value) for name, value in self.inputs.items() if value is not None)

    @property
    def key(self) -> str:
        """Stable name with the SI unit."""
        return self.rule.key

    @property
    def label(self) -> str:
        """Name for people."""
        return self.rule.label

    @property
    def kind(self) -> str:
        """Kind of quantity, for showing the value."""
        return self.rule.kind

    @property
    def formula(self) -> str:
        """How it is computed."""
        return self.rule.formula

    @property
    def source(self) -> str:
        """Where the relation comes from."""
        return self.rule.source

    @property
    def note(self) -> str:
        """What the relation leaves out."""
        return self.rule.note

    @property
    def is_estimate(self) -> bool:
        """Whether it rests on an assumption that nobody entered."""
        return bool(self.assumed)


@dataclass(frozen=True, slots=True)
class Lack:
    """An entry that is still needed, and where to make it."""

    table: str
    record_id: int
    field: str
    text: str


@dataclass(slots=True)
class Workbench:
    """Collects the figures of one station, and what was lacking on the way."""

    figures: dict[str, Figure] = field(default_factory=dict)
    lacks: dict[tuple[str, int, str], Lack] = field(default_factory=dict)

    def lack(self, table: str, record_id: int, name: str, text: str) -> None:
        """Note an entry that is still needed; twice the same is told once."""
        self.lacks.setdefault((table, record_id, name), Lack(table, record_id, name, text))

    def figure(
        self,
        rule: Rule,
        function: Callable[..., float],
        inputs: Mapping[str, float | str | None],
        *,
        also: Mapping[str, float | str] | None = None,
        key: str = "",
        assumed: str = "",
    ) -> float | None:
        """Compute one figure and keep it with its working.

        Parameters
        ----------
        rule : Rule
            What the figure is.
        function : callable
            Pure function of `core.calc`.
        inputs : mapping
            Its arguments by parameter name; None where an entry is lacking.
        also : mapping
            Entries the figure rests on beside its arguments, told in the working.
        key : str
            Name to keep it under where a station has several of the same rule.
        assumed : str
            The assumption the figure rests on, if it does.

        Returns
        -------
        float or None
            The value in SI, None where it cannot be had.
        """
        value, problem = None, ""
        lacks: tuple[str, ...] = ()
        if None in inputs.values():
            lacks = tuple(words_of(name) for name, value in inputs.items() if value is None)
        else:
            try:
                value = function(**inputs)
            except RangeError as error:
                problem = str(error)
        told = {**inputs, **also} if also else inputs
        self.figures[key or rule.key] = Figure(rule, value, told, lacks, problem, assumed)
        return value


def kind_of(name: str) -> str:
    """Kind of quantity that the ending of a parameter's name stands for."""
    for ending, kind in _KINDS_BY_ENDING:
        if name.endswith(ending):
            return kind
    return "factor"


def words_of(name: str) -> str:
    """A parameter's name as words, without its unit."""
    for ending, _ in _KINDS_BY_ENDING:
        if name.endswith(ending):
            bare = name[: -len(ending)].replace("_", " ").strip()
            return bare or _WORDS_OF_ENDINGS.get(ending, "length")
    return name.replace("_", " ")
