"""Findings about the speed itself: lost signals, speeds out of reach, speeds not as wanted."""

from collections.abc import Iterator

from core.line.findings.view import Found, View, station_rule
from core.line.settings import InForce
from core.model.choices import LOSS_ACTIONS

_LIVE_ZERO_SHARE = 0.1
"""Bottom of a span over its top from which it counts as live zero: 1-5 V, 2-10 V, 4-20 mA."""
_NO_ACTION = ("nothing", "none", "no action", "ignore", "off", "disabled")


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
