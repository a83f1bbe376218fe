"""Findings about circuits: branch, feeder, service, legs, enclosure, residual-current devices."""

from collections.abc import Iterator

from core.calc import leakage
from core.line.feed import feed_of
from core.line.findings.base import Place, Value
from core.line.findings.view import Found, View, line_rule, station_rule
from core.line.results import LineResults
from core.line.service import enclosure_heats, supply_loads
from core.model import Station

_NEC = "NEC 2023"
_EVEN = 0.2
"""Deviation of the heaviest line from the mean that is worth a word; common practice."""
LineFound = tuple[Station | None, Place, dict[str, Value]]


def _cable_place(view: View, field: str) -> Place:
    cable = view.station.cable("power_in")
    return Place("cable", cable.id, field) if cable else view.at_drive("supply_id")


@station_rule(
    key="branch-conductor-too-small",
    level="blocker",
    says="The conductor may carry {allowed_a} as it lies; {asked_a} is asked.",
    follows="It overheats under a load that nothing stops in time.",
    mend="Use at least {needed_m2}, or lay it cooler or with fewer circuits.",
    source="NEC 430.122, 310.16, 110.14(C); IEC 60364-4-43 433.1, 60364-5-52",
)
def branch_conductor_too_small(view: View) -> Iterator[Found]:
    """The power conductor carries less than the rules ask."""
    allowed = view.result.value("conductor_allowed_a")
    asked = view.result.value("branch_design_current_a")
    if view.line.wiring_rules == "iec" and asked is not None:
        asked = max(asked, view.station.drive.protection_a or 0.0)
    needed = view.result.value("conductor_needed_m2")
    if allowed is None or asked is None or allowed >= asked * 0.999:
        return
    values: dict[str, Value] = {"allowed_a": allowed, "asked_a": asked}
    values["needed_m2"] = needed if needed is not None else "a larger conductor"
    yield _cable_place(view, "conductor_m2"), values


@station_rule(
    key="branch-protection",
    level="fault",
    says="The branch protection is {rating_a}; {bound} {limit_a} by the rules.",
    follows="Too small, it trips in normal work; too large, the drive's input is not protected.",
    mend="Fit a device that suits, or enter the maker's largest rating on the drive type.",
    source="NEC 430.52, 430.130; IEC 60364-4-43 433.1; the drive's manual as entered",
)
def branch_protection(view: View) -> Iterator[Found]:
    """The protection is below the drive's input current, or above what is allowed."""
    rating = view.station.drive.protection_a
    current = view.result.value("input_current_a")
    marked = view.drive_type.protection_max_a if view.drive_type else None
    by_rule = view.result.value("protection_highest_a")
    highest = marked if marked is not None else by_rule
    if rating is None:
        return
    place = view.at_drive("protection_a")
    if current is not None and rating < current * 0.999:
        yield place, {"rating_a": rating, "bound": "at least", "limit_a": current}
    elif highest is not None and rating > highest * 1.001:
        yield place, {"rating_a": rating, "bound": "at most", "limit_a": highest}


@station_rule(
    key="earth-conductor-too-small",
    level="blocker",
    says="The earth conductor has {earth_m2}; at least {needed_m2} is asked.",
    follows="A fault does not clear in time, and metal parts stay live.",
    mend="Use at least {needed_m2}.",
    source="NEC 250.122; IEC 60364-5-54 Table 54.2, 543.7",
)
def earth_conductor_too_small(view: View) -> Iterator[Found]:
    """The protective conductor is too small."""
    cable, needed = view.station.cable("power_in"), view.result.value("earth_needed_m2")
    if cable is None or cable.earth_m2 is None or needed is None:
        return
    if cable.earth_m2 < needed * 0.99:
        place = Place("cable", cable.id, "earth_m2")
        yield place, {"earth_m2": cable.earth_m2, "needed_m2": needed}


@station_rule(
    key="voltage-drop",
    level="advice",
    says="The branch drops {drop_share} of the voltage; {limit_share} is wanted.",
    follows="The drive's bus sags at full load, and it may trip on low voltage.",
    mend="Use a larger conductor or a shorter run.",
    source="NEC 210.19 informational note (3 %); IEC 60364-5-52 Annex G (5 %)",
)
def voltage_drop(view: View) -> Iterator[Found]:
    """The branch drops more voltage than wanted."""
    drop = view.result.value("branch_drop_share")
    stated = view.supply.drop_max if view.supply else None
    limit = stated if stated is not None else (0.03 if view.line.wiring_rules == "nec" else 0.05)
    if drop is not None and drop > limit:
        yield _cable_place(view, "length_m"), {"drop_share": drop, "limit_share": limit}


@station_rule(
    key="rcd-blinded",
    level="blocker",
    says="The residual-current device of supply {supply} is of type {rcd}; this drive asks "
    "{wanted}.",
    follows="Direct current from a fault behind the rectifier can blind it: it no longer trips.",
    mend="Fit a device of type {wanted}, or do without one where the rules allow it.",
    source="IEC 62423; IEC 60364-5-53; the drive's manual wins",
)
def rcd_blinded(view: View) -> Iterator[Found]:
    """A residual-current device that the drive can blind."""
    feed = feed_of(view.supply, view.station.drive.supply_lines)
    if feed is None or view.supply is None or view.supply.rcd_type in (None, "none"):
        return
    kind = "three_phase" if feed.phases == 3 else "line_neutral" if feed.to_neutral else "line_line"
    if not leakage.rcd_type_fit(view.supply.rcd_type or "", kind).fits:
        yield (
            Place("supply", view.supply.id, "rcd_type"),
            {
                "supply": view.supply.name,
                "rcd": (view.supply.rcd_type or "").upper(),
                "wanted": "F or B" if kind == "line_neutral" else "B",
            },
        )


@line_rule(
    key="service-overloaded",
    level="blocker",
    says="Supply {supply}: {load_a} in its heaviest line, rated {rating_a}, at {demand_share} "
    "demand.",
    follows="The main device trips, or the service overheats.",
    mend="Run fewer drives at once, move drives to another line, or have the service enlarged.",
    source="sum of rated input currents; NEC 430.24 under NEC rules",
)
def service_overloaded(results: LineResults) -> Iterator[LineFound]:
    """The drives together ask more than the service gives."""
    for load in supply_loads(results):
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
    key="legs-uneven",
    level="advice",
    says="Supply {supply}: {lines}; the heaviest is {off_share} off the mean.",
    follows="One line is full while the others are not; voltages become uneven.",
    mend="Feed some drives from another line.",
    source="largest deviation over the mean; 20 % is common practice",
)
def legs_uneven(results: LineResults) -> Iterator[LineFound]:
    """The lines of a supply are loaded unevenly."""
    for load in supply_loads(results):
        if load.imbalance_share > _EVEN:
            lines = ", ".join(f"{line} {amps:.1f} A" for line, amps in load.line_a.items())
            place = Place("supply", load.supply.id, "kind")
            yield (
                None,
                place,
                {"supply": load.supply.name, "lines": lines, "off_share": load.imbalance_share},
            )


@line_rule(
    key="leakage-sum",
    level="fault",
    says="Supply {supply}: drives leak {sum_signal_a} together; its device trips at "
    "{trip_signal_a} "
    "and may already at half of that.",
    follows="It trips without a fault.",
    mend="Spread the drives over several devices, or use one for a higher current where allowed.",
    source="IEC 60364-5-53: standing leakage at most 30 % of the rated residual current",
)
def leakage_sum(results: LineResults) -> Iterator[LineFound]:
    """The leakage of all drives behind one residual-current device."""
    for supply in results.line.supplies:
        if supply.rcd_type in (None, "none") or supply.rcd_trip_a is None:
            continue
        leaks = tuple(
            entry.drive_type.leakage_a
            for entry in results.stations
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
    says="Enclosure {enclosure}: {heat_w} of heat inside, {allowed_w} may be; it reaches "
    "{inside_k}.",
    follows="Drives trip on heat on the first hot day, and their capacitors age fast.",
    mend="Fit a fan or a larger enclosure, or move drives out.",
    source="k·A·ΔT and fan air; IEC TR 60890 surface factors from memory",
)
def enclosure_too_hot(results: LineResults) -> Iterator[LineFound]:
    """More heat inside than walls and fan carry away."""
    for heat in enclosure_heats(results):
        if heat.allowed_w is not None and heat.inside_k and heat.heat_w > heat.allowed_w:
            yield (
                None,
                Place("enclosure", heat.enclosure.id, "fan_flow_m3_s"),
                {
                    "enclosure": heat.enclosure.name,
                    "heat_w": heat.heat_w,
                    "allowed_w": heat.allowed_w,
                    "inside_k": heat.inside_k,
                },
            )


@line_rule(
    key="pair-unlike",
    level="fault",
    says="Pair {pair}: {first} and {second} differ in {differing}.",
    follows="One common signal gives two different speeds, and the ratio drifts with the knob.",
    mend="Use like drives with like spans, or enter that they are meant to differ.",
    source="common practice",
)
def pair_unlike(results: LineResults) -> Iterator[LineFound]:
    """The two drives of a pair are of different type or span."""
    stations = {station.id: station for station in results.line.stations}
    for pair in results.line.pairs:
        first = stations.get(pair.first_station_id or 0)
        second = stations.get(pair.second_station_id or 0)
        if first is None or second is None:
            continue
        differing = list(_differing(results, first, second))
        if differing:
            yield (
                second,
                Place("pair", pair.id, "name"),
                {
                    "pair": pair.name,
                    "first": first.tag,
                    "second": second.tag,
                    "differing": ", ".join(differing),
                },
            )


def _differing(results: LineResults, first: Station, second: Station) -> Iterator[str]:
    if first.drive.drive_type_id != second.drive.drive_type_id:
        yield "drive type"
    one, other = results.station(first.id).limits, results.station(second.id).limits
    if one is not None and other is not None:
        if (one.bottom_hz, one.top_hz) != (other.bottom_hz, other.top_hz):
            yield "frequencies at the ends of the reference"
        if one.maximum_hz != other.maximum_hz:
            yield "maximum frequency"
    if first.reference.source != second.reference.source:
        yield "kind of reference"
