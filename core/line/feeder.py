"""What the conductor of a supply's feeder may carry, by the tables of the wiring rules.

With insulation and way of laying as entered; where they are not, laid as is usual, an estimate.
"""

from dataclasses import dataclass

from core.calc import iec_conductors, nec_conductors
from core.line import service_rules as rules
from core.line.feed import feed_of
from core.line.figures import Rule, Workbench
from core.line.iec_circuit import BUNCHED, table_insulation, table_method
from core.line.nec_circuit import insulation_k
from core.model import Supply
from core.model.choices import METHODS

_AROUND_K = 303.15
"""30 °C, for which the tables of both rule sets are made."""
_USUAL_NEC_K = 348.15
_USUAL_IEC = ("PVC", "C")
_BEST_CASE = "30 °C around and no other circuit beside it, as neither is entered"


@dataclass(frozen=True, slots=True)
class Feeder:
    """A feeder: its supply, the rules, what it has to carry [A], its lines, a neutral in use."""

    supply: Supply
    by_nec: bool
    asked_a: float | None
    lines: int
    to_neutral: bool


def is_laid_as_entered(supply: Supply, rule: Rule) -> bool:
    """Whether the feeder's insulation and way of laying are entered, as these rules know them.

    ``rule`` is the one by which the feeder's current is reckoned.
    """
    return _is_laid(supply, rule is rules.NEC_FEEDER)


def _is_laid(supply: Supply, by_nec: bool) -> bool:
    if by_nec:
        known = insulation_k(supply.feeder_insulation) is not None
        return known and supply.feeder_method is not None
    known = table_insulation(supply.feeder_insulation) is not None
    return known and table_method(supply.feeder_method) is not None


def add_feeder_allowed(bench: Workbench, feeder: Feeder) -> None:
    """Put what the feeder's conductor may carry on the bench."""
    (_by_nec if feeder.by_nec else _by_iec)(bench, feeder, _is_laid(feeder.supply, feeder.by_nec))


def _by_nec(bench: Workbench, feeder: Feeder, laid: bool) -> None:
    supply = feeder.supply
    own = feed_of(supply, "L1 N")
    counted = nec_conductors.current_carrying_conductors(
        feeder.lines,
        neutral=feeder.to_neutral or feeder.lines == 1,
        wye=own is not None and own.service == "wye",
        mainly_nonlinear=True,
    )

    def carried(
        circuit_a: float, area_m2: float, insulation_k: float, ambient_k: float, conductors: float
    ) -> float:
        terminal_k = nec_conductors.terminal_rating_k(circuit_a, None)
        return nec_conductors.allowed_current(
            area_m2, insulation_k, ambient_k, int(conductors), terminal_k
        ).allowed_a

    bench.figure(
        rules.NEC_FEEDER_ALLOWED,
        carried,
        {
            "circuit_a": supply.service_rating_a or feeder.asked_a,
            "area_m2": supply.feeder_conductor_m2,
            "insulation_k": insulation_k(supply.feeder_insulation) if laid else _USUAL_NEC_K,
            "ambient_k": _AROUND_K,
            "conductors": counted,
        },
        also={"laid": METHODS[supply.feeder_method or ""]} if laid else None,
        assumed=_assumed("75 °C copper", laid, "terminals not marked, 110.14(C)"),
    )


def _by_iec(bench: Workbench, feeder: Feeder, laid: bool) -> None:
    supply = feeder.supply
    usual_insulation, usual_method = _USUAL_IEC
    loaded = 3 if feeder.lines == 3 else 2

    def carried(area_m2: float, insulation: str, method: str, ambient_k: float) -> float:
        return iec_conductors.cable_current(
            area_m2, insulation, loaded, method, ambient_k, 1, BUNCHED
        ).allowed_a

    bench.figure(
        rules.IEC_FEEDER_ALLOWED,
        carried,
        {
            "area_m2": supply.feeder_conductor_m2,
            "insulation": table_insulation(supply.feeder_insulation) if laid else usual_insulation,
            "method": table_method(supply.feeder_method) if laid else usual_method,
            "ambient_k": _AROUND_K,
        },
        also={"loaded_conductors": loaded},
        assumed=_assumed("copper, PVC, on a wall", laid),
    )


def _assumed(usual: str, laid: bool, *more: str) -> str:
    parts = (*(() if laid else (usual,)), _BEST_CASE, *more)
    return "; ".join(parts)
