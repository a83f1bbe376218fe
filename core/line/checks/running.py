"""Checks with the motor coupled, of the speed reference, with fruit, and at the handover."""

from core.line import plan_rules
from core.line.bands import budget_of, holds_within_hz
from core.line.checks.base import Limits, Place, check
from core.line.settings import coasts
from core.model.choices import LOSS_ACTIONS

_SPEED_LEAST = 0.02
"""Band of a speed by tachometer, ± of expected, however small its budget is; common practice."""
_RAMP = 0.25
"""Band of a ramp by stop watch, ± of the setting; common practice."""
_FEED = 0.10
"""Band of the bins counted in half an hour; common practice."""
_TRANSIT = 0.5
"""Band of a marked fruit's time over brushes; the drift is an index until it is timed."""


@check(
    lambda place: bool(place.at.value("running_current_a")),
    key="loaded-current",
    stage="coupled",
    label="Motor current at the speed as set, loaded",
    how="True-rms clamp suited to a drive's output; every motor of the station.",
    kind="current",
    caution="shock",
    source="nameplate current; IEC 60034-1",
)
def loaded_current(place: Place) -> Limits:
    """What is expected at the load, and the nameplate as limit."""
    amps = [motor.current_a for motor in place.station.motors]
    high = sum(value or 0.0 for value in amps) if amps and None not in amps else None
    return Limits(high=high, expected=place.at.value("running_current_a"), why="nameplate current")


@check(
    lambda place: place.at.value("shaft_speed_now_rad_s") is not None,
    key="shaft-speed",
    stage="coupled",
    label="Shaft speed at the reference as set",
    how="Optical tachometer on drum, brush or conveyor shaft.",
    kind="rotation",
    caution="start",
    source="the plan's figure and its budget; 2 % at least",
)
def shaft_speed(place: Place) -> Limits:
    """The computed speed as set, within its own uncertainty."""
    expected = place.at.value("shaft_speed_now_rad_s") or 0.0
    budget = budget_of(place.at, place.at.value("frequency_now_hz"))
    band = max(_SPEED_LEAST, 2.0 * budget.relative_u if budget else 0.0)
    told = f"computed ± {100.0 * band:.1f} %"
    return Limits(expected * (1.0 - band), expected * (1.0 + band), expected, told)


@check(
    lambda place: place.station.drivetrain.drum_diameter_m is not None,
    key="diameter",
    stage="coupled",
    label="Diameter of drum, roller or brush as it is",
    how="Calliper or diameter tape, isolated and locked out; brushes at the fruit line.",
    kind="size",
    caution="start",
    source="the diameter entered, ± 3 %",
)
def diameter(place: Place) -> Limits:
    """The diameter entered; a reading can be taken over."""
    entered = place.station.drivetrain.drum_diameter_m or 0.0
    return Limits(0.97 * entered, 1.03 * entered, entered, "as entered ± 3 %")


def _ramp(place: Place, role: str) -> float | None:
    setting, limits = place.setting(role), place.at.limits
    hertz = place.at.value("frequency_now_hz")
    if setting is None or setting.value is None or limits is None or not hertz:
        return None
    return setting.value * min(1.0, hertz / limits.maximum_hz)


def _ramp_limits(place: Place, role: str) -> Limits:
    expected = _ramp(place, role) or 0.0
    band = max(_RAMP * expected, 0.5)
    return Limits(
        max(0.0, expected - band), expected + band, expected, "the setting's share, ± 25 %"
    )


@check(
    lambda place: bool(_ramp(place, "ramp_up")),
    key="ramp-up",
    stage="coupled",
    label="Time from start to the speed as set",
    how="Stop watch, or the drive's display.",
    kind="time",
    caution="start",
    source="acceleration setting, which goes to maximum frequency",
)
def ramp_up(place: Place) -> Limits:
    """The acceleration setting's share."""
    return _ramp_limits(place, "ramp_up")


@check(
    # No setting says how long a motor runs out that is left to itself.
    lambda place: (
        bool(_ramp(place, "ramp_down")) and not coasts(place.station, place.at.drive_type)
    ),
    key="ramp-down",
    stage="coupled",
    label="Time from stop to standstill, without a trip",
    how="Stop watch, fully loaded once.",
    kind="time",
    caution="stop",
    source="deceleration setting, which goes from maximum frequency",
)
def ramp_down(place: Place) -> Limits:
    """The deceleration setting's share."""
    return _ramp_limits(place, "ramp_down")


@check(
    lambda place: place.station.controls.emergency_stop not in (None, "none"),
    key="emergency-stop",
    stage="coupled",
    label="Emergency stop stops it, and it stays stopped after release",
    how="Press each device once, running.",
    caution="stop",
    source="IEC 60204-1, 9.2.3.4.2; ISO 13850",
)
def emergency_stop(_place: Place) -> Limits:
    """Yes or no."""
    return Limits()


@check(
    key="stops",
    stage="coupled",
    label="Every stop command stops it",
    how="Each push button, switch and controller once.",
    caution="stop",
)
def stops(_place: Place) -> Limits:
    """Yes or no."""
    return Limits()


# --- speed reference ------------------------------------------------------------------------


@check(
    lambda place: place.at.chain is not None,
    key="zero-of-reference",
    stage="speed_reference",
    label="Frequency with the reference at its bottom",
    how="Reference at 0 %; read the drive's display.",
    kind="frequency",
    caution="start",
    source="settings of the ends of the reference",
)
def zero_of_reference(place: Place) -> Limits:
    """The bottom of the reference, held up by the minimum."""
    return _at_share(place, 0.0)


@check(
    lambda place: place.at.chain is not None,
    key="top-of-reference",
    stage="speed_reference",
    label="Frequency with the reference at its top",
    how="Reference at 100 %; read the drive's display.",
    kind="frequency",
    caution="start",
    source="settings of the ends of the reference",
)
def top_of_reference(place: Place) -> Limits:
    """The top of the reference, held down by the maximum."""
    return _at_share(place, 1.0)


def _at_share(place: Place, share: float) -> Limits:
    chain = place.at.chain
    assert chain is not None
    expected = chain.frequency_hz(chain.signal(share))
    off, why = 0.01 * abs(chain.limits.top_hz - chain.limits.bottom_hz), "± 1 % of the span"
    if (held := holds_within_hz(place.at)) is not None and held > off:
        # A knob or a signal that cannot hold 1 % is no fault: calibration judges it alike.
        off, why = held, "what the reference can hold (k = 2)"
    return Limits(expected - off, expected + off, expected, why)


@check(
    lambda place: place.at.chain is not None,
    key="reference-calibrated",
    stage="speed_reference",
    label="Reference read at 0, 25, 50, 75 and 100 %, up and down",
    how="Calibration page of the station; as found, and as left where it was set.",
    caution="start",
)
def reference_calibrated(_place: Place) -> Limits:
    """Yes or no; the points stand in the calibration."""
    return Limits()


@check(
    lambda place: place.at.chain is not None and place.station.reference.loss_action != "unknown",
    key="lost-reference",
    stage="speed_reference",
    label="What it does with the signal wire off",
    how="Running slowly, lift the signal wire at the source.",
    caution="start",
    options={key: word for key, word in LOSS_ACTIONS.items() if key != "unknown"},
)
def lost_reference(place: Place) -> Limits:
    """What is entered for a lost signal."""
    return Limits(good=(place.station.reference.loss_action,), why="as entered")


@check(
    key="power-returns",
    stage="speed_reference",
    label="After a power cut it stays stopped, or restarts only as entered",
    how="Open and close the branch protection with the command still on.",
    caution="start",
    source="IEC 60204-1, 7.5",
)
def power_returns(_place: Place) -> Limits:
    """Yes or no."""
    return Limits()


# --- with fruit -----------------------------------------------------------------------------


def _figure(place: Place, key: str) -> float | None:
    figure = place.entry.present.get(key)
    return figure.value if figure else None


@check(
    lambda place: bool(place.results.plan.recipe and place.results.plan.recipe.bins_1_s),
    for_line=True,
    key="bins-counted",
    stage="with_fruit",
    label="Bins emptied in half an hour, as bins per hour",
    how="Count whole bins over 30 minutes of steady running.",
    kind="bin_rate",
    source="the bins wanted, ± 10 %",
)
def bins_counted(place: Place) -> Limits:
    """The feed that is wanted."""
    recipe = place.results.plan.recipe
    wanted = (recipe.bins_1_s if recipe else None) or 0.0
    return Limits((1 - _FEED) * wanted, (1 + _FEED) * wanted, wanted, "bins wanted ± 10 %")


@check(
    lambda place: _is_first_of_bed(place) and bool(_figure(place, plan_rules.TIME_ON_BRUSHES.key)),
    key="marked-fruit",
    stage="with_fruit",
    label="Time of a marked fruit over the brushes",
    how="Ten painted fruit at normal feed; the mean of their times.",
    kind="time",
    source="drift index; it teaches the travel factor",
)
def marked_fruit(place: Place) -> Limits:
    """The time by the drift index, which is an index until it is timed once."""
    expected = _figure(place, plan_rules.TIME_ON_BRUSHES.key) or 0.0
    return Limits(
        (1 - _TRANSIT) * expected, (1 + _TRANSIT) * expected, expected, "drift index ± 50 %"
    )


def _is_first_of_bed(place: Place) -> bool:
    members = place.results.plan.graph.together[place.station.id]
    return place.station.kind == "brush_bed" and members[0] == place.station.id


@check(
    lambda place: place.station.kind == "cup_conveyor",
    key="cups-filled",
    stage="with_fruit",
    label="Share of 200 cups that carry just one fruit",
    how="Count 200 cups in each lane at normal feed.",
    kind="ratio",
    source="the fill entered, ± 10 points",
)
def cups_filled(place: Place) -> Limits:
    """The fill that the plan counts on; a reading can be taken over."""
    fill = place.station.process.cup_fill
    if fill is None:
        return Limits(0.5, 1.0, None, "half of the cups at least")
    return Limits(max(0.0, fill - 0.1), min(1.0, fill + 0.1), fill, "as entered ± 10 points")


@check(
    lambda place: place.station.kind == "cup_conveyor",
    key="cups-doubled",
    stage="with_fruit",
    label="Share of 200 cups that carry two fruit",
    how="Count with the filled ones.",
    kind="ratio",
    source="from memory: 1 to 5 % in practice",
)
def cups_doubled(_place: Place) -> Limits:
    """Five in a hundred at most."""
    return Limits(high=0.05, why="5 % at most")


@check(
    lambda place: (
        place.station.kind == "cup_conveyor" and bool(place.station.process.encoder_pulses)
    ),
    key="drop-at-two-speeds",
    stage="with_fruit",
    label="Fruit drops at the same place at two speeds",
    how="At the planned speed and at 80 % of it; if the place moves, mend the latency.",
)
def drop_at_two_speeds(_place: Place) -> Limits:
    """Yes or no."""
    return Limits()


@check(
    lambda place: place.station.kind == "spin_section" and bool(_figure(place, "images_in_view")),
    key="images-counted",
    stage="with_fruit",
    label="Images taken of one fruit",
    how="Count in the camera's log; look at the first and the last image.",
    kind="factor",
    source="frames times time in view, ± 2 images",
)
def images_counted(place: Place) -> Limits:
    """What frames and speed give."""
    expected = _figure(place, "images_in_view") or 0.0
    return Limits(expected - 2.0, expected + 2.0, expected, "computed ± 2")


@check(
    lambda place: place.station.kind == "spin_section",
    key="turn-seen",
    stage="with_fruit",
    label="A fruit with a marked equator turns once at least in view",
    how="One marked fruit; look at its images.",
)
def turn_seen(_place: Place) -> Limits:
    """Yes or no."""
    return Limits()


@check(
    lambda place: place.station.kind not in ("pump", "fan"),
    key="no-pile-up",
    stage="with_fruit",
    label="Nothing piles up at 50, 75 and 100 % feed, nor when the line stops and starts",
    how="Step up the feed; stop and start in the order of the plan.",
    caution="start",
)
def no_pile_up(_place: Place) -> Limits:
    """Yes or no."""
    return Limits()


# --- handover -------------------------------------------------------------------------------


@check(
    for_line=True,
    key="owner-shown",
    stage="handover",
    label="Owner shown start order, stop order, knobs and limits, what to note at a trip",
    how="Let them do it once.",
)
def owner_shown(_place: Place) -> Limits:
    """Yes or no."""
    return Limits()


@check(
    for_line=True,
    key="book-handed-over",
    stage="handover",
    label="Handover book, spares and copies of the line file handed over",
    how="Print the book from the frozen record.",
)
def book_handed_over(_place: Place) -> Limits:
    """Yes or no."""
    return Limits()


@check(
    key="labels-fixed",
    stage="handover",
    label="Wires, station and knob labelled",
    how="Labels from the book; normal position and limits beside the knob.",
)
def labels_fixed(_place: Place) -> Limits:
    """Yes or no."""
    return Limits()
