"""Findings about what drives share: service, feeder, lines, leakage, enclosure."""

from collections.abc import Iterator

from core.calc import leakage
from core.line.feed import feed_of
from core.line.findings.base import Place
from core.line.findings.view import LineFound, LineView, line_rule
from core.line.service import EnclosureHeat, SupplyLoad

_EVEN = 0.2
"""Deviation of the heaviest line from the mean that is worth a word; common practice."""
_LIGHT = 0.25
"""Share of the service rating below which uneven lines do no harm; common practice."""


@line_rule(
    key="service-overloaded",
    level="blocker",
    says="Supply {supply}: {load_a} in its heaviest line, rated {rating_a}, at {demand_share} "
    "demand.",
    follows="The main device trips, or the service overheats.",
    mend="Run fewer drives at once, move drives to another line, or have the service enlarged.",
    source="sum of rated input currents; NEC 430.24 under NEC rules",
)
def service_overloaded(whole: LineView) -> Iterator[LineFound]:
    """The drives together ask more than the service gives."""
    for load in whole.loads:
        rating = load.supply.service_rating_a
        if rating is not None and load.heaviest_a > rating:
            yield (
                None,
                Place("supply", load.supply.id, "service_rating_a"),
                {
                    "supply": load.supply.name,
                    "load_a": load.heaviest_a,
                    "rating_a": rating,
                    "demand_share": load.demand,
                },
            )


@line_rule(
    key="feeder-overloaded",
    level="fault",
    says="The feeder of supply {supply} has to carry {feeder_a}; the service is rated {rating_a}.",
    follows="By the rules a quarter of the largest drive's input counts on top of the sum: the "
    "feeder and its device are too small.",
    mend="Have the service enlarged, or feed drives from another supply.",
    source="NEC 430.24; 125 % of the largest, and the rest",
)
def feeder_overloaded(whole: LineView) -> Iterator[LineFound]:
    """The lines stay below the service rating, but not with the quarter that the NEC adds."""
    for load in whole.loads:
        rating = load.supply.service_rating_a
        if rating is not None and load.heaviest_a <= rating < load.feeder_a * 0.999:
            yield (
                None,
                Place("supply", load.supply.id, "service_rating_a"),
                {"supply": load.supply.name, "feeder_a": load.feeder_a, "rating_a": rating},
            )


@line_rule(
    key="feeder-conductor-too-small",
    level="fault",
    says="The feeder of supply {supply} has to carry {feeder_a}; its conductor of {conductor_m2}, "
    "laid as entered, carries {carries_a} at best ({basis}).",
    follows="It overheats when all drives run, or its device cannot be chosen to protect it.",
    mend="Use a larger conductor, or feed drives from another supply.",
    source="NEC Table 310.16, 110.14(C); IEC 60364-5-52 Annex B",
)
def feeder_conductor_too_small(whole: LineView) -> Iterator[LineFound]:
    """The feeder's conductor carries less than it has to, laid as entered."""
    yield from _short_feeders(whole, laid_as_entered=True)


@line_rule(
    key="feeder-conductor",
    level="advice",
    says="The feeder of supply {supply} has to carry {feeder_a}; its conductor of {conductor_m2} "
    "carries about {carries_a} ({basis}).",
    follows="It overheats when all drives run, or its device cannot be chosen to protect it.",
    mend="Enter the feeder's insulation and way of laying, and check it with its true temperature.",
    source="NEC Table 310.16; IEC 60364-5-52 Tables B.52.2 and B.52.4; an estimate",
)
def feeder_conductor(whole: LineView) -> Iterator[LineFound]:
    """The feeder's conductor against what it has to carry, laid as is usual."""
    yield from _short_feeders(whole, laid_as_entered=False)


def _short_feeders(whole: LineView, laid_as_entered: bool) -> Iterator[LineFound]:
    for load in whole.loads:
        allowed = load.feeder_allowed
        if allowed is None or load.feeder_is_laid_as_entered != laid_as_entered:
            continue
        if allowed.value is not None and allowed.value < load.feeder_a * 0.999:
            yield (
                None,
                Place("supply", load.supply.id, "feeder_conductor_m2"),
                {
                    "supply": load.supply.name,
                    "feeder_a": load.feeder_a,
                    "conductor_m2": load.supply.feeder_conductor_m2 or 0.0,
                    "carries_a": allowed.value,
                    "basis": allowed.assumed,
                },
            )


@line_rule(
    key="neutral-overloaded",
    level="advice",
    says="Supply {supply}: about {neutral_a} in the neutral, rated {rating_a} like the lines.",
    follows="The third harmonics of drives fed line to neutral add there; no device watches it.",
    mend="Feed drives from two or three lines, or have the neutral enlarged.",
    source="sum of triplen harmonics; a usual spectrum of small rectifiers, an estimate",
)
def neutral_overloaded(whole: LineView) -> Iterator[LineFound]:
    """More current in the neutral than in any line may flow."""
    for load in whole.loads:
        rating = load.supply.service_rating_a
        if rating is not None and load.neutral_a > rating:
            yield (
                None,
                Place("supply", load.supply.id, "service_rating_a"),
                {"supply": load.supply.name, "neutral_a": load.neutral_a, "rating_a": rating},
            )


@line_rule(
    key="legs-uneven",
    level="advice",
    says="Supply {supply}: {lines}; the heaviest is {off_share} off the mean.",
    follows="One line is full while the others are not; voltages become uneven.",
    mend="Feed some drives from another line.",
    source="largest deviation over the mean; 20 % is common practice",
)
def legs_uneven(whole: LineView) -> Iterator[LineFound]:
    """The lines of a supply are loaded unevenly."""
    for load in whole.loads:
        if load.imbalance_share > _EVEN and _could_be_even(whole, load):
            lines = ", ".join(f"{line} {amps:.1f} A" for line, amps in load.line_a.items())
            place = Place("supply", load.supply.id, "kind")
            yield (
                None,
                place,
                {"supply": load.supply.name, "lines": lines, "off_share": load.imbalance_share},
            )


def _could_be_even(whole: LineView, load: SupplyLoad) -> bool:
    """Whether there is something to move, and enough of it to matter."""
    if load.used_share is not None and load.used_share < _LIGHT:
        return False
    held = (entry.station.drive for entry in whole.stations)
    feeds = [feed_of(load.supply, d.supply_lines) for d in held if d.supply_id == load.supply.id]
    return sum(feed is not None and feed.phases == 1 for feed in feeds) > 1


@line_rule(
    key="leakage-sum",
    level="fault",
    says="Supply {supply}: drives leak {sum_signal_a} together; its residual-current device trips "
    "at {trip_signal_a} and may already at half of that.",
    follows="It trips without a fault.",
    mend="Spread the drives over several devices, or use one for a higher current where allowed.",
    source="IEC 60364-5-53: standing leakage at most 30 % of the rated residual current",
)
def leakage_sum(whole: LineView) -> Iterator[LineFound]:
    """The leakage of all drives behind one residual-current device."""
    for supply in whole.line.supplies:
        if supply.rcd_type in (None, "none") or supply.rcd_trip_a is None:
            continue
        leaks = tuple(
            entry.drive_type.leakage_a
            for entry in whole.stations
            if entry.station.drive.supply_id == supply.id
            and entry.drive_type is not None
            and entry.drive_type.leakage_a
        )
        if leaks and not leakage.leakage_fit(leaks, supply.rcd_trip_a).fits:
            yield (
                None,
                Place("supply", supply.id, "rcd_trip_a"),
                {
                    "supply": supply.name,
                    "sum_signal_a": sum(leaks),
                    "trip_signal_a": supply.rcd_trip_a,
                },
            )


@line_rule(
    key="enclosure-too-hot",
    level="fault",
    says="Enclosure {enclosure}: {inside_heat_w} of heat inside, {allowed_heat_w} may be; it "
    "reaches {inside_k} ({basis}).",
    follows="Drives trip on heat on the first hot day, and their capacitors age fast.",
    mend="Fit a fan or a larger enclosure, or move drives out.",
    source="k·A·ΔT and fan air; IEC TR 60890 surface factors from memory",
)
def enclosure_too_hot(whole: LineView) -> Iterator[LineFound]:
    """More heat inside than walls and fan carry away."""
    for heat in whole.heats:
        if heat.allowed_w is not None and heat.inside_k and heat.heat_w > heat.allowed_w * 1.001:
            yield (
                None,
                Place("enclosure", heat.enclosure.id, "fan_flow_m3_s"),
                {
                    "enclosure": heat.enclosure.name,
                    "inside_heat_w": heat.heat_w,
                    "allowed_heat_w": heat.allowed_w,
                    "inside_k": heat.inside_k,
                    "basis": _basis(heat),
                },
            )


def _basis(heat: EnclosureHeat) -> str:
    told = (
        f"losses of {', '.join(heat.estimated)} not entered, estimated" if heat.estimated else "",
        f"those of {', '.join(heat.unknown)} left out" if heat.unknown else "",
    )
    return "; ".join(words for words in told if words) or "losses as entered"


@line_rule(
    key="enclosure-no-colder-outside",
    level="fault",
    says="Around enclosure {enclosure} it gets {ambient_k}; inside {allowed_k} is allowed.",
    follows="Neither wall nor fan carries any heat away then, and the drives trip on heat.",
    mend="Place the enclosure where it is cooler, or use a cooling unit.",
    source="heat flows from warm to cold only",
)
def enclosure_no_colder_outside(whole: LineView) -> Iterator[LineFound]:
    """Outside as warm as the inside may be, with heat inside."""
    for heat in whole.heats:
        held = heat.enclosure
        if held.ambient_max_k is None or held.inside_max_k is None or not heat.heat_w:
            continue
        if held.ambient_max_k >= held.inside_max_k:
            yield (
                None,
                Place("enclosure", held.id, "ambient_max_k"),
                {
                    "enclosure": held.name,
                    "ambient_k": held.ambient_max_k,
                    "allowed_k": held.inside_max_k,
                },
            )
