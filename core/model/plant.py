"""What the whole line shares: people, supplies, enclosures, buses and drive types."""

from core.model import choices
from core.model.fields import (
    children,
    choice,
    date,
    flag,
    long_text,
    quantity,
    record,
    ref,
    text,
    typed,
    whole,
)


@record("person", "Person")
class Person:
    """Somebody who works on the line or answers for it."""

    id: int = 0
    name: str = text("Name")
    role: str = text("Role")
    licence: str = text("Licence")
    phone: str = text("Phone")


@record("instrument", "Instrument")
class Instrument:
    """A measuring instrument and the day its calibration runs out."""

    id: int = 0
    name: str = text("Name", hint="What it measures, e.g. insulation tester")
    serial: str = text("Serial number")
    calibration_due: str | None = date("Calibration due")
    notes: str = long_text("Notes")


@record("supply", "Supply")
class Supply:
    """One supply at the site, as it arrives at the drives."""

    id: int = 0
    name: str = text("Name", hint="How you call it, e.g. shed service", unique=True)
    kind: str | None = choice("Kind", choices.SUPPLY_KINDS)
    frequency_hz: float | None = quantity("frequency", "Frequency", above=True, maximum=400.0)
    service_rating_a: float | None = quantity("current", "Service rating", above=True)
    main_protection: str = text("Main protection", hint="Kind and rating as marked")
    prospective_fault_current_a: float | None = quantity("current", "Prospective fault current")
    feeder_length_m: float | None = quantity("length", "Feeder length", hint="One way")
    feeder_conductor_m2: float | None = quantity("conductor", "Feeder conductor", above=True)
    feeder_insulation: str | None = choice("Feeder insulation", choices.INSULATIONS)
    feeder_method: str | None = choice("Feeder installed", choices.METHODS)
    rcd_type: str | None = choice("Residual-current device", choices.RCD_TYPES)
    rcd_trip_a: float | None = quantity("signal_current", "Its rated residual current", above=True)
    demand: float | None = quantity(
        "ratio", "Demand", maximum=1.0, hint="Share of all drives that may run at once"
    )
    other_load_a: float | None = quantity("current", "Other load on it", hint="In each line")
    drop_max: float | None = quantity(
        "ratio", "Voltage drop allowed", maximum=0.2, hint="In a branch circuit"
    )
    notes: str = long_text("Notes")


@record("enclosure", "Enclosure")
class Enclosure:
    """A panel or box that drives sit in."""

    id: int = 0
    name: str = text("Name", unique=True)
    height_m: float | None = quantity("size", "Height", above=True)
    width_m: float | None = quantity("size", "Width", above=True)
    depth_m: float | None = quantity("size", "Depth", above=True)
    mounting: str | None = choice("Mounting", choices.MOUNTINGS)
    material: str | None = choice("Material", choices.MATERIALS)
    protection: str = text("Protection class", hint="IP code or NEMA type")
    area: str | None = choice("Area", choices.AREAS)
    ambient_max_k: float | None = quantity("temperature", "Highest ambient temperature")
    inside_max_k: float | None = quantity("temperature", "Allowed inside temperature")
    fan_flow_m3_s: float | None = quantity("air_flow", "Fan air flow", hint="Zero without a fan")
    notes: str = long_text("Notes")


@record("bus", "Bus")
class Bus:
    """One serial bus: who leads it, how it talks, where it ends."""

    id: int = 0
    name: str = text("Name", unique=True)
    protocol: str | None = choice("Protocol", choices.BUS_PROTOCOLS)
    controller: str = text("Controller", hint="Device at the head of the chain")
    terminal_plus: str = text("Controller terminal, positive line")
    terminal_minus: str = text("Controller terminal, negative line")
    terminal_common: str = text("Controller terminal, common")
    speed_bd: int | None = whole("Speed (Bd)", minimum=300, maximum=1_000_000)
    parity: str | None = choice("Parity", choices.PARITIES)
    terminated_at_controller: bool = flag("Terminated at the controller")
    terminated_at_last_drive: bool = flag("Terminated at the last drive")
    port: str = text("Port", hint="Serial port, or host and port of a gateway")
    notes: str = long_text("Notes")


@record("terminal", "Terminal")
class Terminal:
    """One terminal of a drive type, as its manual numbers it."""

    id: int = 0
    designation: str = text("Terminal", hint="As marked on the drive, e.g. X1:4", unique=True)
    role: str = choice("What it is for", choices.TERMINAL_ROLES, "other")
    meaning: str = text("Meaning", hint="In the words of its manual")


@record("reference_input", "Reference input")
class ReferenceInput:
    """One analogue input of a drive type that can set its speed."""

    id: int = 0
    name: str = text("Name", hint="As the manual calls it, or its terminal", unique=True)
    terminal: str = text("Terminal", hint="Designation in the list of terminals")
    common_terminal: str = text("Common terminal")
    signal: str = choice("Signal", choices.SIGNALS, "voltage")
    low_v: float | None = quantity(
        "voltage", "Lowest voltage", minimum=None, only={"signal": "voltage"}
    )
    high_v: float | None = quantity(
        "voltage", "Highest voltage", above=True, only={"signal": "voltage"}
    )
    low_a: float | None = quantity("signal_current", "Lowest current", only={"signal": "current"})
    high_a: float | None = quantity(
        "signal_current", "Highest current", above=True, only={"signal": "current"}
    )
    input_resistance_ohm: float | None = quantity("resistance", "Input resistance", above=True)
    resolution_bits: int | None = whole("Resolution (bits)", minimum=4, maximum=32)
    accuracy: float | None = quantity("ratio", "Accuracy", maximum=1.0, hint="±, of its span")
    switch_position: str = text("Switch position", hint="If a switch or jumper selects the signal")


@record("listed_setting", "Listed setting")
class ListedSetting:
    """One line of a drive type's list of settings, in keypad order."""

    id: int = 0
    code: str = text("Code", hint="As the keypad shows it", unique=True)
    meaning: str = text("Meaning")
    role: str = choice("What it means to Linebook", choices.SETTING_ROLES, "none")
    unit: str = text("Unit", hint="As the keypad shows it, e.g. Hz, s, A, %")
    minimum: str = text("Minimum")
    maximum: str = text("Maximum")
    factory: str = text("Factory value")
    options: str = text("Choices", hint="value = meaning; value = meaning", pairs=True)
    register: int | None = whole("Bus register", maximum=65535)
    register_scale: float | None = quantity(
        "factor", "Register scale", above=True, hint="Keypad value for one count of the register"
    )
    register_form: str = choice("Register holds", choices.REGISTER_FORMS, "u16")
    register_words: str = choice("Word order", choices.REGISTER_WORDS, "high_first")
    register_first_bit: int | None = whole("First bit", maximum=31, hint="Of a bit field")
    register_bits: int | None = whole("Bits", minimum=1, maximum=32, hint="Of a bit field")
    register_table: str = choice("Register table", choices.REGISTER_TABLES, "holding")


@record("drive_type", "Drive type")
class DriveType:
    """A drive's ratings, terminals and list of settings, read from its manual by the user."""

    id: int = 0
    name: str = text("Name", hint="How you call it in this file", unique=True)
    input_phases: str | None = choice("Input phases", choices.INPUT_PHASES)
    input_voltage_min_v: float | None = quantity("voltage", "Input voltage from", above=True)
    input_voltage_max_v: float | None = quantity("voltage", "Input voltage to", above=True)
    doubles_voltage: bool = flag(
        "Doubles the voltage", hint="A 120 V input class whose output reaches 230 V"
    )
    input_frequency_min_hz: float | None = quantity("frequency", "Input frequency from")
    input_frequency_max_hz: float | None = quantity("frequency", "Input frequency to")
    derated_1ph: float | None = quantity(
        "ratio",
        "Output on one phase, of rated",
        maximum=1.0,
        hint="If the manual of a 3-phase drive allows it",
    )
    output_voltage_v: float | None = quantity("voltage", "Highest output voltage", above=True)
    rated_power_w: float | None = quantity("power", "Rated power", above=True)
    rated_power_typed: str = typed("rated_power_w")
    output_current_a: float | None = quantity("current", "Rated output current", above=True)
    input_current_1ph_a: float | None = quantity(
        "current", "Rated input current, 1-phase", above=True
    )
    input_current_3ph_a: float | None = quantity(
        "current", "Rated input current, 3-phase", above=True
    )
    overload: float | None = quantity("ratio", "Overload", minimum=1.0, maximum=5.0)
    overload_time_s: float | None = quantity("time", "Overload time", above=True)
    losses_w: float | None = quantity("loss_power", "Losses at rated load")
    ambient_max_k: float | None = quantity("temperature", "Highest ambient temperature")
    frequency_max_hz: float | None = quantity("frequency", "Highest output frequency", above=True)
    protection: str = text("Protection class", hint="IP code or NEMA type")
    motor_cable_max_m: float | None = quantity("length", "Longest motor cable")
    discharge_wait_s: float | None = quantity(
        "wait", "Wait before opening", hint="Capacitor discharge time from the drive's label"
    )
    reference_supply_v: float | None = quantity("voltage", "Potentiometer supply", above=True)
    reference_supply_max_a: float | None = quantity(
        "signal_current", "Potentiometer supply, at most", above=True
    )
    frequency_step_hz: float | None = quantity("frequency", "Frequency resolution", above=True)
    protection_max_a: float | None = quantity(
        "current", "Largest branch protection allowed", above=True
    )
    terminals_for: str | None = choice("Power terminals marked for", choices.TERMINAL_RATINGS)
    leakage_a: float | None = quantity("signal_current", "Leakage current")
    line_choke: bool = flag("Has a line or bus choke")
    brake_chopper: bool = flag("Has a brake chopper")
    bus_capacitance_f: float | None = quantity("capacitance", "Bus capacitance", above=True)
    bus_trip_v: float | None = quantity("voltage", "Trips on a bus voltage of", above=True)
    unit_load: float | None = quantity("factor", "Bus unit loads", maximum=4.0)
    notes: str = long_text("Notes")
    terminals: tuple[Terminal, ...] = children(Terminal)
    reference_inputs: tuple[ReferenceInput, ...] = children(ReferenceInput)
    listed_settings: tuple[ListedSetting, ...] = children(ListedSetting)

    def listed(self, code: str) -> ListedSetting | None:
        """The line of the list with this code, if there is one."""
        return next((entry for entry in self.listed_settings if entry.code == code), None)

    def by_role(self, role: str) -> ListedSetting | None:
        """The first listed setting that means this to Linebook."""
        return next((entry for entry in self.listed_settings if entry.role == role), None)

    def reference_input(self, name: str) -> ReferenceInput | None:
        """The reference input of this name, if there is one."""
        return next((entry for entry in self.reference_inputs if entry.name == name), None)

    def terminal(self, role: str) -> Terminal | None:
        """The first terminal with this role."""
        return next((entry for entry in self.terminals if entry.role == role), None)


@record("flow", "Flow")
class Flow:
    """One step of the fruit's way: a station that feeds another."""

    id: int = 0
    from_station_id: int | None = ref("station", "From")
    to_station_id: int | None = ref("station", "To")
    kind: str = choice("Kind", choices.FLOW_KINDS, "forward")
    share: float | None = quantity(
        "ratio", "Share of the fruit", maximum=1.0, hint="Empty: as the sizes or the culls give it"
    )


@record("pair", "Pair")
class Pair:
    """Two stations that are held at a ratio."""

    id: int = 0
    name: str = text("Name", hint="e.g. odd and even brushes", unique=True)
    first_station_id: int | None = ref("station", "First station")
    second_station_id: int | None = ref("station", "Second station")
    wanted_as: str = choice("Wanted as", choices.PAIR_BASES, "differential")
    wanted_differential: float | None = quantity(
        "ratio",
        "Differential wanted",
        minimum=-2.0,
        maximum=2.0,
        only={"wanted_as": "differential"},
        hint="By how much the first is faster, of their mean",
    )
    wanted_ratio: float | None = quantity(
        "factor", "Ratio wanted", above=True, only={"wanted_as": "ratio"}
    )
    tolerance: float | None = quantity(
        "ratio", "Tolerance", above=True, maximum=1.0, hint="±, in points of the differential"
    )
    one_signal: bool = flag(
        "Both follow one signal", hint="The same knob or channel sets both drives"
    )
    notes: str = text("Notes")


@record("acceptance", "Accepted finding")
class Acceptance:
    """A finding that somebody accepts, with a reason; it ends when the finding's figures change."""

    id: int = 0
    mark: str = text("Mark of the finding", unique=True)
    finding: str = text("Finding")
    place: str = text("Where")
    person: str = text("Accepted by")
    reason: str = text("Reason")
    day: str | None = date("On")
