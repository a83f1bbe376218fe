"""Findings about the branch circuit of a drive: conductor, protection, earth, drop, RCD."""

from collections.abc import Iterator

from core.calc import leakage
from core.line.findings.base import Place, Value
from core.line.findings.view import Found, View, station_rule


def _cable_place(view: View, field: str) -> Place:
    cable = view.station.cable("power_in")
    return Place("cable", cable.id, field) if cable else view.at_drive("supply_id")


@station_rule(
    key="branch-conductor-too-small",
    level="blocker",
    says="The conductor may carry {allowed_a} as it lies; {asked_a} is asked.",
    follows="It overheats under a load that nothing stops in time.",
    mend="Use a larger conductor (smallest by the rules: {needed_m2}), or lay it cooler or with "
    "fewer circuits.",
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
    values["needed_m2"] = needed if needed is not None else "not known yet"
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
    key="protection-above-430-52",
    level="advice",
    says="The branch protection is {rating_a}: within the {marked_a} that the drive's maker "
    "allows, above the {limit_a} that Table 430.52 gives for the motor.",
    follows="Linebook goes by the maker's marking; an inspector may go by the table.",
    mend="Fit {limit_a} where that carries the drive's input of {input_a}, or ask the authority "
    "before the inspection: it decides.",
    source="NEC 2023 430.52(C)(1), 430.130(A); the drive's marking as entered",
)
def protection_above_430_52(view: View) -> Iterator[Found]:
    """Protection that the maker's marking allows and the table for the motor does not."""
    rating = view.station.drive.protection_a
    marked = view.drive_type.protection_max_a if view.drive_type else None
    limit = view.result.value("protection_by_table_a")
    current = view.result.value("input_current_a")
    if rating is None or marked is None or limit is None or current is None:
        return
    if limit * 1.001 < rating <= marked * 1.001:
        yield (
            view.at_drive("protection_a"),
            {"rating_a": rating, "marked_a": marked, "limit_a": limit, "input_a": current},
        )


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
    says="The residual-current device of supply {supply} is of type {rcd}; a drive fed this way "
    "asks for type {wanted}.",
    follows="Direct current from a fault behind the rectifier can blind it: it no longer trips.",
    mend="Fit a device of type {wanted}, or do without one where the rules allow it; what the "
    "drive's maker states counts before this.",
    source="IEC 62423; IEC 60364-5-53; the drive's manual wins",
)
def rcd_blinded(view: View) -> Iterator[Found]:
    """A residual-current device that the drive can blind."""
    feed = view.feed
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
