"""Findings about the speed plan: speeds out of reach, floods, bottlenecks, handling limits."""

from collections.abc import Iterator

from core.calc import handling
from core.line import plan_rules as figures
from core.line.findings.base import Place, Value
from core.line.findings.view import LineFound, PlanView, plan_rule
from core.line.plan import PlanEntry
from core.line.reach import is_out_of_reach

_OFF = 0.05
"""Deviation from the wanted frequency that is worth a word; common practice."""
_FULL = 1.01
"""Use from which a station floods: what hertz rounded to two decimals may add is left out."""


def _at(entry: PlanEntry, field: str = "wanted") -> Place:
    return Place("station", entry.station.id, field)


def _is_first(view: PlanView, entry: PlanEntry) -> bool:
    """Whether a station is the one that stands for its place."""
    return view.plan.graph.together[entry.station.id][0] == entry.station.id


def _at_reference(entry: PlanEntry) -> Place:
    held = entry.station.reference
    return Place("speed_reference", held.id, "now_a" if held.source == "current" else "now_v")


@plan_rule(
    key="wanted-speed-out-of-reach",
    level="fault",
    says="{when}The wanted speed needs {wanted_hz}; the drive runs from {minimum_hz} to "
    "{maximum_hz}.",
    follows="The station cannot run as wanted with these limits.",
    mend="Change the limits if motor and machine allow it, or the drivetrain.",
    source="slip in proportion to torque on a constant V/f line",
)
def wanted_speed_out_of_reach(view: PlanView) -> Iterator[LineFound]:
    """The frequency for the wanted speed lies outside of the drive's limits."""
    for entry in view.entries:
        wanted, limits = entry.planned_hz, entry.result.limits
        if wanted is None or limits is None:
            continue
        if is_out_of_reach(wanted, limits):
            yield (
                entry.station,
                _at(entry),
                {
                    "wanted_hz": wanted,
                    "minimum_hz": limits.minimum_hz,
                    "maximum_hz": limits.maximum_hz,
                },
            )


@plan_rule(
    key="speed-not-as-wanted",
    level="fault",
    says="The reference as set now gives {now_hz}; the wanted speed needs {wanted_hz}.",
    follows="The station runs at {now_share} of the frequency it should, and what follows it gets "
    "too much or too little.",
    mend="Set the reference anew, or mend the settings that scale it.",
    source="the reference as set, against the speed wanted; 5 % as limit: common practice",
)
def speed_not_as_wanted(view: PlanView) -> Iterator[LineFound]:
    """A reference that, as it is set now, gives another speed than the wanted one."""
    for entry in view.entries if view.is_in_force else ():
        now, wanted = entry.present_hz, entry.planned_hz
        if now is None or not wanted or wanted <= 0.0 or abs(now / wanted - 1.0) <= _OFF:
            continue
        yield (
            entry.station,
            _at_reference(entry),
            {"now_hz": now, "wanted_hz": wanted, "now_share": now / wanted},
        )


@plan_rule(
    key="wanted-below-cooling",
    level="advice",
    says="{when}The wanted speed needs {wanted_hz}; on its own fan the motor carries this load "
    "from {cooled_hz} on.",
    follows="Run for long below that, it grows too hot, and nothing trips but a sensor in it.",
    mend="Fit a forced fan, a thermal sensor, or a larger gear ratio so that it runs faster.",
    source="the maker's lowest frequency where it is entered, else a rule of thumb "
    "(common practice)",
)
def wanted_below_cooling(view: PlanView) -> Iterator[LineFound]:
    """A planned frequency at which an own-fan motor no longer carries its load for good."""
    for entry in view.entries:
        cooled, wanted = entry.result.value("cooled_from_hz"), entry.planned_hz
        if cooled is not None and wanted is not None and 0.0 < wanted < cooled - 0.005:
            yield entry.station, _at(entry), {"wanted_hz": wanted, "cooled_hz": cooled}


@plan_rule(
    key="station-overfed",
    level="fault",
    says="{when}{asked_1_s} arrive; at the speed {which} it carries {capacity_1_s}, so "
    "{used_share} of it is used.",
    follows="Fruit piles up before it, and the line cannot give what is wanted.",
    mend="Run it faster where it may, feed less, or widen it; the plan tells the speed it needs.",
    source="counting of places; brush beds by their drift index and Little's law",
)
def station_overfed(view: PlanView) -> Iterator[LineFound]:
    """A station that gets more fruit than it carries: as set now, or as planned."""
    for entry in view.entries:
        now = view.is_in_force
        shown, which = (entry.present, "set now") if now else (entry.planned, "planned")
        use, capacity = shown.get(figures.USE.key), shown.get(figures.CAPACITY.key)
        if use is None or capacity is None or not use.value or entry.flow_1_s is None:
            continue
        if use.value > _FULL and _is_first(view, entry):
            told: dict[str, Value] = {
                "asked_1_s": entry.flow_1_s,
                "capacity_1_s": capacity.value or 0.0,
                "used_share": use.value,
                "which": which,
            }
            yield entry.station, _at(entry), told


@plan_rule(
    key="bed-does-not-carry",
    level="fault",
    says="The reverse row turns as fast as the forward row or faster: the drift index is "
    "{drift_m_s}.",
    follows="Fruit stays on the brushes or comes back, and is rubbed sore.",
    mend="Let the forward row turn a little faster than the reverse row.",
    source="mean of the two surface speeds; reference relation B1",
)
def bed_does_not_carry(view: PlanView) -> Iterator[LineFound]:
    """A brush bed whose rows, as set now, carry nothing forward."""
    for entry in view.entries if view.is_in_force else ():
        drift = entry.present.get(figures.DRIFT.key)
        if drift is None or drift.value is None or drift.value > 0.0:
            continue
        if _is_first(view, entry):
            yield entry.station, _at_reference(entry), {"drift_m_s": drift.value}


@plan_rule(
    key="images-not-as-wanted",
    level="advice",
    says="{when}At this speed the camera takes {images} images of a fruit; {wanted} are wanted.",
    follows="Parts of the fruit are seen twice or never.",
    mend="Set the frames to {frames_hz} hertz, or let the encoder set them off.",
    source="frames times time in view",
)
def images_not_as_wanted(view: PlanView) -> Iterator[LineFound]:
    """Frames that no longer fit the speed through the view."""
    for entry in view.entries:
        shown = entry.present if view.is_in_force else entry.planned
        images, frames = shown.get(figures.IMAGES.key), shown.get(figures.FRAMES_NEEDED.key)
        wanted = entry.station.process.images_per_fruit
        if images is None or images.value is None or not wanted or frames is None:
            continue
        if abs(images.value / wanted - 1.0) > _OFF:
            told: dict[str, Value] = {
                "images": f"{images.value:.3g}",
                "wanted": wanted,
                "frames_hz": f"{frames.value or 0.0:.3g}",
            }
            yield entry.station, Place("process", entry.station.process.id, "frames_hz"), told


@plan_rule(
    key="turns-out-of-window",
    level="advice",
    says="{when}A fruit turns {turns} times in view; sorters want {low} to {high}.",
    follows="Part of it is never seen, or image follows image too far apart.",
    mend="Set the spin belt by the turns wanted, and look at the first and the last image.",
    source="common practice; an index, as fruit slips on its rollers",
)
def turns_out_of_window(view: PlanView) -> Iterator[LineFound]:
    """Turns in view that are far from what a sizing camera wants."""
    window = next(iter(handling.limits_for("spin_section", "turns_in_view")), None)
    if window is None or window.low is None or window.high is None:
        return
    for entry in view.entries if view.is_in_force else ():
        turns = entry.present.get(figures.TURNS.key)
        if turns is None or turns.value is None or window.holds(turns.value) is not False:
            continue
        told: dict[str, Value] = {
            "turns": f"{turns.value:.2f}",
            "low": f"{window.low:g}",
            "high": f"{window.high:g}",
        }
        yield entry.station, _at_reference(entry), told


_HANDLED = (("brush_speed", "shaft_speed_now_rad_s"), ("brushing_time", "time_on_brushes_s"))


@plan_rule(
    key="handling-limit",
    level="advice",
    says="{what}: {found}. Published{fruit}: {limit}.",
    follows="{words}.",
    mend="Run it within the limit, or try with twenty fruit and look at them after a day.",
    source="{source} ({status})",
)
def handling_limit(view: PlanView) -> Iterator[LineFound]:
    """A speed, time or fall beyond what a published source gives for handling fruit."""
    fruit = view.plan.recipe.fruit if view.plan.recipe else ""
    for entry in view.entries if view.is_in_force else ():
        for quantity, value in _values(view, entry):
            for limit in _limits(entry, quantity, fruit):
                if limit.bearing not in ("within", "harm") or limit.holds(value) is not False:
                    continue
                told: dict[str, Value] = {
                    "what": quantity.replace("_", " ").capitalize(),
                    "found": _in_source_unit(quantity, value),
                    "fruit": f" for {', '.join(limit.fruit)}" if limit.fruit else "",
                    "limit": limit.printed,
                    "words": limit.words,
                    "source": limit.source,
                    "status": limit.status,
                }
                yield entry.station, _at(entry), told
                break


def _values(view: PlanView, entry: PlanEntry) -> Iterator[tuple[str, float]]:
    if entry.station.kind == "brush_bed":
        # Each row has its speed, the bed one time.
        for quantity, key in _HANDLED if _is_first(view, entry) else _HANDLED[:1]:
            figure = entry.result.figures.get(key) or entry.present.get(key)
            if figure is not None and figure.value is not None:
                yield quantity, figure.value
    if entry.station.process.drop_out_m is not None:
        yield "drop", entry.station.process.drop_out_m


def _limits(entry: PlanEntry, quantity: str, fruit: str) -> tuple[handling.Limit, ...]:
    """Limits of a fall for the fruit and the surface at hand; of speeds and times for any fruit.

    Few speeds are published at all, so one for another fruit is told as that fruit's.
    """
    if quantity != "drop":
        return handling.limits_for(entry.station.kind, quantity)
    onto = entry.station.process.drop_onto
    return handling.drop_limits(onto, fruit) if onto else ()


def _in_source_unit(quantity: str, value: float) -> str:
    if quantity == "brush_speed":
        return f"{value * 9.549296585513721:.1f} rpm"
    return f"{value * 1e3:.0f} mm" if quantity == "drop" else f"{value:.0f} s"
