"""Findings about the way of the fruit, and about speeds that hang on one another."""

from collections.abc import Iterator

from core.line.aims import Trouble
from core.line.findings.base import Place, Value
from core.line.findings.view import LineFound, PlanView, plan_rule
from core.line.flow import FlowFault


def _flow_faults(view: PlanView, kind: str) -> Iterator[FlowFault]:
    if view.is_in_force:
        yield from (fault for fault in view.plan.flow_faults if fault.kind == kind)


def _told(view: PlanView, fault: FlowFault | Trouble) -> LineFound:
    station = view.station(fault.station_ids[0]) if fault.station_ids else None
    values: dict[str, Value] = {"stations": view.tags(fault.station_ids)}
    place = Place("station", station.id, "wanted") if station else Place("line", view.line.id)
    return station, place, values


@plan_rule(
    key="flow-loop",
    level="fault",
    says="Fruit would go round: {stations}.",
    follows="There is no order in which to plan these stations or to stop them.",
    mend="If cups or rollers only come back empty, call that link a return; else remove it.",
    source="a way of fruit has a start and an end",
)
def flow_loop(view: PlanView) -> Iterator[LineFound]:
    """Links that carry fruit in a ring."""
    for fault in _flow_faults(view, "loop"):
        yield _told(view, fault)


@plan_rule(
    key="flow-apart",
    level="advice",
    says="No link leads to or from {stations}.",
    follows="The plan knows no fruit there, and no place in the order of stopping.",
    mend="Enter which station feeds which.",
    source="a way of fruit has a start and an end",
)
def flow_apart(view: PlanView) -> Iterator[LineFound]:
    """Stations that handle fruit but stand apart from its way."""
    for fault in _flow_faults(view, "apart"):
        yield _told(view, fault)


@plan_rule(
    key="flow-two-starts",
    level="advice",
    says="Fruit comes in at several stations: {stations}.",
    follows="The plan shares the feed evenly between them.",
    mend="Enter the share of each, as a link from outside; or link what stands before them.",
    source="counting; no fruit is made or lost",
)
def flow_two_starts(view: PlanView) -> Iterator[LineFound]:
    """More stations than one that nothing feeds."""
    for fault in _flow_faults(view, "two_starts"):
        yield _told(view, fault)


@plan_rule(
    key="flow-dead-end",
    level="advice",
    says="Nothing takes the fruit from {stations}.",
    follows="The take-aways entered do not hang on it, and get no fruit in the plan.",
    mend="Link it to the take-aways that it drops onto.",
    source="counting; no fruit is made or lost",
)
def flow_dead_end(view: PlanView) -> Iterator[LineFound]:
    """A cup conveyor that feeds nothing on a line with take-aways."""
    for fault in _flow_faults(view, "dead_end"):
        yield _told(view, fault)


@plan_rule(
    key="flow-shares",
    level="fault",
    says="The shares of the links from {stations} do not make up all of its fruit.",
    follows="Fruit would be lost or made; what comes after it is not planned.",
    mend="Let the shares add up to 100 %, or leave one empty for the rest.",
    source="counting; no fruit is made or lost",
)
def flow_shares(view: PlanView) -> Iterator[LineFound]:
    """Shares that do not add up."""
    for fault in _flow_faults(view, "shares"):
        yield _told(view, fault)


@plan_rule(
    key="flow-feed-shares",
    level="fault",
    says="The shares of the links from outside, to {stations}, do not make up all of the feed.",
    follows="Fruit would be lost or made; no fruit is planned anywhere.",
    mend="Let the shares add up to 100 %, or leave one empty for the rest.",
    source="counting; no fruit is made or lost",
)
def flow_feed_shares(view: PlanView) -> Iterator[LineFound]:
    """Shares of the feed that do not add up."""
    for fault in _flow_faults(view, "feed_shares"):
        yield _told(view, fault)


@plan_rule(
    key="culls-stay",
    level="advice",
    says="Culls are entered, but no link carries them away.",
    follows="The plan counts them to the end of the line.",
    mend="Enter where they leave: a link that carries culls away, to a station or to outside.",
    source="counting; no fruit is made or lost",
)
def culls_stay(view: PlanView) -> Iterator[LineFound]:
    """Culls without a way out."""
    for fault in _flow_faults(view, "culls_stay"):
        yield _told(view, fault)


def _troubles(view: PlanView, kind: str) -> Iterator[LineFound]:
    for trouble in view.plan.troubles:
        if trouble.kind == kind:
            yield _told(view, trouble)


@plan_rule(
    key="plan-circular",
    level="fault",
    says="{when}These speeds wait for one another: {stations}.",
    follows="Not one of them has a planned speed.",
    mend="Give one of them a speed of its own.",
    source="each speed rests on one other at the most",
)
def plan_circular(view: PlanView) -> Iterator[LineFound]:
    """Wanted speeds that rest on one another in a ring."""
    yield from _troubles(view, "circular")


@plan_rule(
    key="plan-no-partner",
    level="fault",
    says="{when}{stations} is to follow its pair, but stands in none that gives it a speed.",
    follows="It has no planned speed.",
    mend="Enter the pair with this station as the first one; two rows of a bed are one pair.",
    source="a ratio needs two stations",
)
def plan_no_partner(view: PlanView) -> Iterator[LineFound]:
    """A speed by a pair that is not there."""
    yield from _troubles(view, "no_partner")


@plan_rule(
    key="plan-followed-twice",
    level="fault",
    says="{when}The first of these is to keep a ratio to several others at once: {stations}.",
    follows="Their speeds may ask for different ones of it, so it has no planned speed.",
    mend="Keep one pair with it as the first station, and turn the others round.",
    source="one speed cannot keep two ratios but by chance",
)
def plan_followed_twice(view: PlanView) -> Iterator[LineFound]:
    """A station that leads two pairs."""
    yield from _troubles(view, "followed_twice")


@plan_rule(
    key="plan-same-direction",
    level="fault",
    says="{when}The rows {stations} turn the same way, so no difference of speed makes a drift.",
    follows="Each fruit turns in its valley and moves only when the next one pushes.",
    mend="Let one row turn in reverse, or give each its own speed.",
    source="reference relation B1 and its limits",
)
def plan_same_direction(view: PlanView) -> Iterator[LineFound]:
    """A drift wanted of rows that do not turn against each other."""
    yield from _troubles(view, "same_direction")


@plan_rule(
    key="plan-wrong-turn",
    level="fault",
    says="{when}For the turns wanted {stations} would have to turn the other way.",
    follows="It has no planned speed; as it turns now, that speed gives another number of turns.",
    mend="Change the turns wanted, or the way it turns, at the motor and in its entry.",
    source="turning rests on the difference of two speeds; reference relation C1",
)
def plan_wrong_turn(view: PlanView) -> Iterator[LineFound]:
    """Turns that ask a spin section to run against the way it turns."""
    yield from _troubles(view, "wrong_turn")


@plan_rule(
    key="plan-no-carrier",
    level="fault",
    says="{when}{stations} is to turn fruit in view, but no cup conveyor carries fruit over it.",
    follows="It has no planned speed.",
    mend="Link it to the cup conveyor that carries fruit through the view.",
    source="turning rests on the difference of two speeds",
)
def plan_no_carrier(view: PlanView) -> Iterator[LineFound]:
    """A spin section without its carrier."""
    yield from _troubles(view, "no_carrier")
