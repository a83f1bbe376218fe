"""What all drives together ask of each supply."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from core.calc import nec_motors, neutral
from core.line import service_rules as rules
from core.line.enclosure_heat import EnclosureHeat, enclosure_heats
from core.line.feed import Feed, feed_of
from core.line.feeder import Feeder, add_feeder_allowed, is_laid_as_entered
from core.line.figures import Figure, Workbench
from core.line.results import LineResults
from core.model import Supply

__all__ = ["EnclosureHeat", "SupplyLoad", "enclosure_heats", "supply_loads"]

_THIRD, _FIFTH = 0.81, 0.53
"""Harmonics of a small single-phase rectifier over its fundamental: the middle of the simulated
cases of the reference (h3 0.57 to 0.91); an estimate."""
_LINES = {"1ph_120": 1, "1ph_230": 1, "1ph_240": 2, "split_120_240": 2}


@dataclass(frozen=True, slots=True)
class SupplyLoad:
    """One supply under all its drives.

    ``figures`` go by the keys of `core.line.service_rules`. ``line_a`` is the load of each line
    under the stated demand. ``estimated`` names stations whose input current is an estimate,
    ``unknown`` those whose input current is not known, which are left out.
    """

    supply: Supply
    figures: Mapping[str, Figure]
    line_a: Mapping[str, float]
    demand: float
    estimated: tuple[str, ...]
    unknown: tuple[str, ...]

    @property
    def heaviest_a(self) -> float:
        """Load of the heaviest line."""
        return self._value(rules.HEAVIEST.key)

    @property
    def feeder_a(self) -> float:
        """Current the feeder has to carry by the wiring rules, in its heaviest line."""
        return self._value(rules.IEC_FEEDER.key)

    @property
    def imbalance_share(self) -> float:
        """Largest deviation of a line from the mean of the lines, over that mean."""
        return self._value(rules.IMBALANCE.key)

    @property
    def neutral_a(self) -> float:
        """Current in the neutral, estimated, triplen harmonics included."""
        return self._value(rules.NEUTRAL.key)

    @property
    def used_share(self) -> float | None:
        """Heaviest line over the service rating; None where that is not entered."""
        return self.figures[rules.USED.key].value

    @property
    def feeder_allowed(self) -> Figure | None:
        """What the feeder's conductor may carry; None where no conductor is entered."""
        return self.figures.get(rules.IEC_FEEDER_ALLOWED.key)

    @property
    def feeder_is_laid_as_entered(self) -> bool:
        """Whether insulation and way of laying of the feeder are entered, as the rules ask."""
        return is_laid_as_entered(self.supply, self.figures[rules.IEC_FEEDER.key].rule)

    def _value(self, key: str) -> float:
        figure = self.figures.get(key)
        return 0.0 if figure is None or figure.value is None else figure.value


@dataclass(frozen=True, slots=True)
class _Fed:
    """A drive on the supply: its name among the inputs of a figure, its feed, what it asks."""

    tag: str
    name: str
    feed: Feed
    input_a: float
    is_estimate: bool


def supply_loads(results: LineResults) -> tuple[SupplyLoad, ...]:
    """The load on every supply of the line."""
    return tuple(_load(results, supply) for supply in results.line.supplies)


def _load(results: LineResults, supply: Supply) -> SupplyLoad:
    fed, unknown = _drives(results, supply)
    demand = 1.0 if supply.demand is None else supply.demand
    left_out = f"without {', '.join(unknown)}, whose input current is not known" if unknown else ""
    everywhere = (
        left_out,
        "all drives at once, as the demand was not entered" if supply.demand is None else "",
        "three lines, as the kind of supply was not entered" if supply.kind is None else "",
    )
    bench = Workbench()
    line_a = _lines(bench, supply, fed, demand, everywhere)
    by_nec = results.line.wiring_rules == "nec"
    feeder = (_nec_feeder if by_nec else _iec_feeder)(bench, supply, fed, line_a, everywhere)
    if supply.feeder_conductor_m2 is not None:
        to_neutral = any(entry.feed.to_neutral for entry in fed)
        add_feeder_allowed(bench, Feeder(supply, by_nec, feeder, len(line_a), to_neutral))
    if len(line_a) > 1:
        bench.figure(
            rules.IMBALANCE,
            lambda **loads: neutral.leg_balance(tuple(loads.values())).imbalance,
            _loads(line_a),
            assumed=_told(fed, everywhere),
        )
    _neutral(bench, supply, fed, demand, everywhere)
    estimated = tuple(entry.tag for entry in fed if entry.is_estimate)
    return SupplyLoad(supply, bench.figures, line_a, demand, estimated, unknown)


def _drives(results: LineResults, supply: Supply) -> tuple[list[_Fed], tuple[str, ...]]:
    """The drives on a supply, and the tags of those whose input current is not known."""
    fed: dict[str, _Fed] = {}
    unknown = []
    for entry in results.stations:
        if entry.station.drive.supply_id != supply.id:
            continue
        feed = feed_of(supply, entry.station.drive.supply_lines)
        figure = entry.figures.get("input_current_a")
        if feed is None or figure is None or figure.value is None:
            unknown.append(entry.tag)
            continue
        name = entry.tag
        while name in fed:
            name += "'"
        fed[name] = _Fed(entry.tag, name, feed, figure.value, figure.is_estimate)
    return list(fed.values()), tuple(unknown)


def _inputs(fed: Iterable[_Fed]) -> dict[str, float | str | None]:
    return {f"{entry.name}_input_a": entry.input_a for entry in fed}


def _shared(supply: Supply, demand: float) -> dict[str, float | str | None]:
    return {"demand_share": demand, "other_load_a": supply.other_load_a or 0.0}


def _loads(line_a: Mapping[str, float]) -> dict[str, float | str | None]:
    return {f"load_in_{line}_a": amps for line, amps in line_a.items()}


def _told(fed: Iterable[_Fed], everywhere: Sequence[str]) -> str:
    tags = [entry.tag for entry in fed if entry.is_estimate]
    guessed = f"input currents of {', '.join(tags)} estimated" if tags else ""
    return "; ".join(words for words in (guessed, *everywhere) if words)


def _on(fed: Iterable[_Fed], line: str) -> list[_Fed]:
    return [entry for entry in fed if line in entry.feed.lines.split()]


def _lines(
    bench: Workbench, supply: Supply, fed: list[_Fed], demand: float, everywhere: Sequence[str]
) -> dict[str, float]:
    """The load of each line that the supply has, of the heaviest, and of the service rating."""

    def load(demand_share: float, other_load_a: float, **input_a: float) -> float:
        return demand_share * sum(input_a.values()) + other_load_a

    line_a = {}
    for line in ("L1", "L2", "L3")[: _LINES.get(supply.kind or "", 3)]:
        held = _on(fed, line)
        inputs = {**_inputs(held), **_shared(supply, demand)}
        rule = rules.LINE_CURRENTS[line]
        line_a[line] = bench.figure(rule, load, inputs, assumed=_told(held, everywhere)) or 0.0
    assumed = _told(fed, everywhere)
    heaviest = bench.figure(
        rules.HEAVIEST, lambda **loads: max(loads.values()), _loads(line_a), assumed=assumed
    )
    bench.figure(
        rules.USED,
        lambda heaviest_line_a, service_rating_a: heaviest_line_a / service_rating_a,
        {"heaviest_line_a": heaviest, "service_rating_a": supply.service_rating_a},
        assumed=assumed,
    )
    return line_a


def _iec_feeder(
    bench: Workbench,
    supply: Supply,
    fed: list[_Fed],
    line_a: Mapping[str, float],
    everywhere: Sequence[str],
) -> float | None:
    return bench.figure(
        rules.IEC_FEEDER,
        lambda **loads: max(loads.values()),
        _loads(line_a),
        assumed=_told(fed, everywhere),
    )


def _nec_feeder(
    bench: Workbench,
    supply: Supply,
    fed: list[_Fed],
    line_a: Mapping[str, float],
    everywhere: Sequence[str],
) -> float | None:
    demand = 1.0 if supply.demand is None else supply.demand

    def carried(demand_share: float, other_load_a: float, **input_a: float) -> float:
        amps = tuple(input_a.values())
        if not amps:
            return other_load_a
        sized = nec_motors.feeder_current(amps, 0.0, other_load_a)
        # The demand lowers the sum, never the quarter on top of the largest drive.
        return sized.total_a - (1.0 - demand_share) * sum(amps)

    def asked(line: str) -> float:
        largest = max((entry.input_a for entry in _on(fed, line)), default=0.0)
        return line_a[line] + 0.25 * largest

    line = max(line_a, key=asked)
    held = _on(fed, line)
    return bench.figure(
        rules.NEC_FEEDER,
        carried,
        {**_inputs(held), **_shared(supply, demand)},
        also={"line": line},
        assumed=_told(held, everywhere),
    )


def _neutral(
    bench: Workbench, supply: Supply, fed: list[_Fed], demand: float, everywhere: Sequence[str]
) -> None:
    """The neutral's current, where the supply has a neutral."""
    own = feed_of(supply, "L1 N")
    if own is None:
        return
    held = [entry for entry in fed if entry.feed.to_neutral]
    inputs: dict[str, float | str | None] = {
        f"{entry.name}_{entry.feed.lines.replace(' ', '_to_')}_a": entry.input_a for entry in held
    }
    inputs["demand_share"] = demand
    if own.service == "single":
        bench.figure(
            rules.NEUTRAL_OF_TWO_WIRES,
            lambda demand_share, **input_a: demand_share * sum(input_a.values()),
            inputs,
            assumed=_told(held, everywhere),
        )
        return
    lines = [entry.feed.lines.split()[0] for entry in held]

    def met(demand_share: float, **input_a: float) -> float:
        return demand_share * _met(tuple(zip(lines, input_a.values(), strict=True)), own.service)

    spectrum = "a usual spectrum of small rectifiers" if held else ""
    bench.figure(
        rules.NEUTRAL,
        met,
        inputs,
        also={"third_harmonic_share": _THIRD, "fifth_harmonic_share": _FIFTH},
        assumed=_told(held, (spectrum, *everywhere)),
    )


def _met(loads: Sequence[tuple[str, float]], service: str) -> float:
    """What of line-to-neutral loads meets in the neutral."""
    order = ("L1", "L2") if service == "split" else ("L1", "L2", "L3")
    scale = (1.0 + _THIRD**2 + _FIFTH**2) ** 0.5
    spectra = []
    for line in order:
        rms_a = sum(amps for own, amps in loads if own == line)
        first = rms_a / scale
        spectra.append({1: first, 3: first * _THIRD, 5: first * _FIFTH})
    return neutral.neutral_current_a(tuple(spectra), "three_wire" if service == "split" else "wye")
