"""Findings about the speed itself: lost signals, speeds out of reach, speeds not as wanted."""

from collections.abc import Iterator

from core.line.findings.base import Place
from core.line.findings.view import Found, View, station_rule
from core.line.settings import InForce
from core.model.choices import LOSS_ACTIONS

_LIVE_ZERO_SHARE = 0.1
"""Bottom of a span over its top from which it counts as live zero: 1-5 V, 2-10 V, 4-20 mA."""
_NO_ACTION = ("nothing", "none", "no action", "ignore", "off", "disabled")
_OFF = 0.05
"""Deviation from the wanted frequency that is worth a word; common practice."""


@station_rule(
    key="reference-loss-not-set",
    level="fault",
    says="The signal has a live zero of {zero}; what the drive does when it is lost is {action}.",
    follows="A broken wire is not told from a speed; the belt may run on or stop unseen.",
    mend="Set the drive's action on lost reference and enter it here.",
    source="common practice; NAMUR NE 43 for the broken-wire band",
)
def reference_loss_not_set(view: View) -> Iterator[Found]:
    """A live-zero signal whose loss does nothing that anybody defined."""
    held, zero = view.station.reference, _live_zero(view)
    words = {"unknown": "not known", "nothing": "nothing"}
    if zero is None or held.loss_action not in words:
        return
    setting = view.setting("loss_action")
    if setting is not None and setting.entered and not _does_nothing(setting):
        return
    yield view.at_reference("loss_action"), {"zero": zero, "action": words[held.loss_action]}


@station_rule(
    key="reference-loss-not-as-set",
    level="fault",
    says="On a lost reference the drive is entered to {action}; setting {code} shows {shown} "
    "({meaning}{origin}).",
    follows="When the wire breaks, the drive does nothing of what the sheet says.",
    mend="Set {code} to what is meant and enter it.",
    source="the drive's settings as entered",
)
def reference_loss_not_as_set(view: View) -> Iterator[Found]:
    """An action on lost reference that is entered but not set at the drive."""
    held, setting = view.station.reference, view.setting("loss_action")
    if _live_zero(view) is None or setting is None or held.loss_action in ("unknown", "nothing"):
        return
    if _does_nothing(setting):
        yield (
            view.at_setting(setting.code),
            {
                "action": LOSS_ACTIONS[held.loss_action].lower(),
                "code": setting.code,
                "shown": setting.shown,
                "meaning": setting.meaning,
                "origin": "" if setting.entered else ", factory value, not entered",
            },
        )


def _live_zero(view: View) -> str | None:
    """The live zero of the signal in words; None where its bottom is nothing."""
    held = view.station.reference
    if held.source == "current":
        low, high, words = held.low_a, held.high_a, f"{(held.low_a or 0.0) * 1e3:.4g} mA"
    elif held.source in ("voltage", "dac"):
        low, high, words = held.low_v, held.high_v, f"{held.low_v or 0.0:.4g} V"
    else:
        return None
    return words if low and high and low >= _LIVE_ZERO_SHARE * high else None


def _does_nothing(setting: InForce) -> bool:
    return any(word in setting.meaning.casefold() for word in _NO_ACTION)


@station_rule(
    key="wanted-speed-out-of-reach",
    level="fault",
    says="The wanted speed needs {wanted_hz}; the drive runs from {minimum_hz} to {maximum_hz}.",
    follows="The station cannot run as wanted with these limits.",
    mend="Change the limits if motor and machine allow it, or the drivetrain.",
    source="slip in proportion to torque on a constant V/f line",
)
def wanted_speed_out_of_reach(view: View) -> Iterator[Found]:
    """The frequency for the wanted speed lies outside of the drive's limits."""
    wanted, limits = view.result.value("frequency_wanted_hz"), view.result.limits
    if wanted is None or limits is None:
        return
    if not limits.minimum_hz - 0.005 <= wanted <= limits.maximum_hz + 0.005:
        yield (
            Place("station", view.station.id, "wanted"),
            {
                "wanted_hz": wanted,
                "minimum_hz": limits.minimum_hz,
                "maximum_hz": limits.maximum_hz,
            },
        )


@station_rule(
    key="speed-not-as-wanted",
    level="fault",
    says="The reference as set now gives {now_hz}; the wanted speed needs {wanted_hz}.",
    follows="The station runs at {now_share} of the frequency it should, and what follows it gets "
    "too much or too little.",
    mend="Set the reference anew, or mend the settings that scale it.",
    source="the reference as set, against the speed wanted; 5 % as limit: common practice",
)
def speed_not_as_wanted(view: View) -> Iterator[Found]:
    """A reference that, as it is set now, gives another speed than the wanted one."""
    now, wanted = view.result.value("frequency_now_hz"), view.result.value("frequency_wanted_hz")
    if now is None or not wanted or wanted <= 0.0:
        return
    if abs(now / wanted - 1.0) > _OFF:
        yield (
            view.at_reference("now_a" if view.station.reference.source == "current" else "now_v"),
            {"now_hz": now, "wanted_hz": wanted, "now_share": now / wanted},
        )
