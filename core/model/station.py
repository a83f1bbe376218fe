"""A station: one driven place, with its motor, drive, reference, controls and wiring."""

from core.model import aims, choices
from core.model.fields import (
    children,
    choice,
    flag,
    long_text,
    quantity,
    record,
    ref,
    single,
    text,
    typed,
    whole,
)
from core.model.photo import Photo

_DRUM = {"surface": "drum"}
_SPROCKET = {"surface": "sprocket"}


@record("motor", "Motor")
class Motor:
    """Everything on a motor's nameplate, IEC or NEMA."""

    id: int = 0
    tag: str = text("Motor tag")
    standard: str | None = choice("Nameplate by", choices.MOTOR_STANDARDS)
    power_w: float | None = quantity("power", "Rated power", above=True)
    power_typed: str = typed("power_w")
    voltage_low_v: float | None = quantity("voltage", "Lower voltage", above=True)
    connection_low: str | None = choice("Connection at the lower voltage", choices.CONNECTIONS)
    current_low_a: float | None = quantity("current", "Current at the lower voltage", above=True)
    voltage_high_v: float | None = quantity(
        "voltage", "Higher voltage", above=True, hint="Empty on a single-voltage motor"
    )
    connection_high: str | None = choice("Connection at the higher voltage", choices.CONNECTIONS)
    current_high_a: float | None = quantity("current", "Current at the higher voltage", above=True)
    connected_for: str | None = choice("Connected for", choices.CONNECTED_FOR)
    frequency_hz: float | None = quantity("frequency", "Rated frequency", above=True, maximum=400.0)
    speed_rad_s: float | None = quantity("rotation", "Rated speed", above=True)
    poles: int | None = whole(
        "Poles", minimum=2, maximum=24, hint="Empty: taken from rated speed and frequency"
    )
    power_factor: float | None = quantity("factor", "Power factor", above=True, maximum=1.0)
    efficiency: float | None = quantity("ratio", "Efficiency", above=True, maximum=1.0)
    service_factor: float | None = quantity("factor", "Service factor", minimum=0.5, maximum=2.0)
    duty: str = text("Duty", hint="S1, S3 40 %, continuous")
    insulation_class: str | None = choice("Insulation class", choices.INSULATION_CLASSES)
    protection: str = text("Enclosure", hint="IP code, or TEFC, ODP, TENV")
    cooling: str | None = choice("Cooling", choices.COOLINGS)
    thermal_sensor: str | None = choice("Thermal sensor", choices.THERMAL_SENSORS)
    inverter_duty: str = choice("Suited to inverter feed", choices.YES_NO_UNKNOWN, "unknown")
    speed_max_rad_s: float | None = quantity("rotation", "Highest speed allowed", above=True)
    frequency_min_hz: float | None = quantity(
        "frequency", "Lowest frequency at rated torque", hint="By its maker, on its own fan"
    )
    inertia_kg_m2: float | None = quantity("inertia", "Rotor inertia", above=True)
    own_overload: bool = flag(
        "Has its own overload device", hint="Relay or thermal sensor that trips it alone"
    )
    serial: str = text("Serial number")

    @property
    def voltage_v(self) -> float | None:
        """Rated voltage of the connection in use."""
        return self.voltage_high_v if self.connected_for == "high" else self.voltage_low_v

    @property
    def current_a(self) -> float | None:
        """Rated current of the connection in use."""
        return self.current_high_a if self.connected_for == "high" else self.current_low_a

    @property
    def connection(self) -> str | None:
        """Connection in use."""
        return self.connection_high if self.connected_for == "high" else self.connection_low


@record("setting", "Drive setting")
class Setting:
    """One drive setting: the value as the keypad shows it, and why it has this value."""

    id: int = 0
    code: str = text("Code", unique=True)
    shown: str = text("Value", hint="As the keypad shows it")
    value: float | None = quantity(
        "factor", "Value in SI", minimum=None, hint="In the SI unit of the listed unit"
    )
    reason: str = text("Why")
    origin: str = choice("Comes from", choices.SETTING_ORIGINS, "entered")


@record("drive", "Drive")
class Drive:
    """The drive of one station and how it is fed."""

    id: int = 0
    drive_type_id: int | None = ref("drive_type", "Drive type")
    serial: str = text("Serial number")
    firmware: str = text("Firmware")
    enclosure_id: int | None = ref("enclosure", "Enclosure")
    supply_id: int | None = ref("supply", "Supply")
    supply_lines: str | None = choice("Fed from", choices.SUPPLY_LINES)
    protection: str = text("Branch protection", hint="Kind as marked, e.g. C breaker, fuse gG")
    protection_a: float | None = quantity("current", "Its rating", above=True)
    protection_kind: str | None = choice("Kind of protection", choices.DEVICES)
    brake_resistor: bool = flag("Brake resistor fitted")
    bus_id: int | None = ref("bus", "Bus")
    bus_address: int | None = whole("Bus address", minimum=1, maximum=247)
    bus_place: int | None = whole("Place in the bus chain", minimum=1, maximum=247)
    settings: tuple[Setting, ...] = children(Setting)

    def setting(self, code: str) -> Setting | None:
        """The setting of this code, if a value was entered."""
        return next((entry for entry in self.settings if entry.code == code), None)


_POT = {"source": "potentiometer"}
_VOLTAGE = {"source": "voltage"}
_CURRENT = {"source": "current"}
_DAC = {"source": "dac"}
_HERTZ = {"source": ("keypad", "preset", "bus")}
_PID = {"source": "pid"}
_WIRED = {"source": ("potentiometer", "voltage", "current", "dac", "pid")}


@record("speed_reference", "Speed reference")
class SpeedReference:
    """The signal that sets a station's speed: where it comes from and where it goes in."""

    id: int = 0
    source: str | None = choice("Source", choices.REFERENCE_SOURCES)
    device: str = text("Device", hint="What gives the signal, e.g. RP1 or the line controller")
    terminal_plus: str = text("Its signal terminal", only=_WIRED)
    terminal_minus: str = text("Its common terminal", only=_WIRED)
    terminal_supply: str = text("Its supply terminal", only=_POT)
    input_name: str = text("Wired to reference input", hint="Of the drive type", only=_WIRED)
    pot_ohm: float | None = quantity("resistance", "Potentiometer", above=True, only=_POT)
    pot_tolerance: float | None = quantity("ratio", "Tolerance", maximum=1.0, only=_POT)
    pot_taper: str | None = choice("Taper", choices.TAPERS, only=_POT)
    pot_linearity: float | None = quantity("ratio", "Linearity", maximum=1.0, only=_POT)
    low_v: float | None = quantity(
        "voltage", "Lowest voltage", minimum=None, only={"source": ("voltage", "dac")}
    )
    high_v: float | None = quantity(
        "voltage", "Highest voltage", above=True, only={"source": ("voltage", "dac")}
    )
    low_a: float | None = quantity("signal_current", "Lowest current", only=_CURRENT)
    high_a: float | None = quantity("signal_current", "Highest current", above=True, only=_CURRENT)
    source_ohm: float | None = quantity(
        "resistance", "Source resistance", only={"source": ("voltage", "dac")}
    )
    setting_share: float | None = quantity(
        "ratio",
        "Can be set to within",
        maximum=1.0,
        hint="±, of the travel: how well a hand finds its place again",
        only={"source": ("potentiometer", "voltage", "current")},
    )
    accuracy: float | None = quantity(
        "ratio",
        "Accuracy of the signal",
        maximum=1.0,
        hint="±, of its span",
        only={"source": ("voltage", "current", "dac")},
    )
    dac_bits: int | None = whole("DAC bits", minimum=4, maximum=24, only=_DAC)
    loop_supply_v: float | None = quantity("voltage", "Loop supply", above=True, only=_CURRENT)
    loop_min_v: float | None = quantity("voltage", "Voltage the transmitter needs", only=_CURRENT)
    loss_action: str = choice("When the signal is lost", choices.LOSS_ACTIONS, "unknown")
    now_v: float | None = quantity(
        "voltage",
        "Voltage as set now",
        minimum=None,
        only={"source": ("potentiometer", "voltage", "dac")},
    )
    now_a: float | None = quantity("signal_current", "Current as set now", only=_CURRENT)
    now_hz: float | None = quantity("frequency", "Frequency as set now", only=_HERTZ)
    feedback: str = text("Feedback signal", hint="What is measured and by what", only=_PID)
    feedback_signal: str | None = choice("Feedback as", choices.SIGNALS, only=_PID)
    feedback_unit: str = text("Feedback shown in", hint="e.g. kPa, m3/h, %", only=_PID)
    feedback_low: float | None = quantity(
        "factor", "Reading at the bottom", minimum=None, only=_PID
    )
    feedback_high: float | None = quantity("factor", "Reading at the top", minimum=None, only=_PID)
    pid_setpoint: float | None = quantity("factor", "Set point", minimum=None, only=_PID)
    pid_gain: float | None = quantity("factor", "Proportional gain", only=_PID)
    pid_integral_s: float | None = quantity("time", "Integral time", only=_PID)
    pid_derivative_s: float | None = quantity("time", "Derivative time", only=_PID)
    notes: str = text("Notes")


@record("preset", "Preset speed")
class Preset:
    """One preset speed of a drive."""

    id: int = 0
    name: str = text("Name")
    frequency_hz: float | None = quantity("frequency", "Frequency")


@record("controls", "Controls")
class Controls:
    """How a station is started and stopped."""

    id: int = 0
    start_mode: str | None = choice("Start and stop by", choices.START_MODES)
    logic: str | None = choice("Digital inputs as", choices.LOGICS)
    stop_category: str = choice(
        "Stop category", choices.STOP_CATEGORIES, "none", hint="IEC 60204-1, 9.2.2"
    )
    emergency_stop: str | None = choice("Emergency stop acts on", choices.EMERGENCY_STOPS)
    restarts: str = choice("Restarts when power returns", choices.YES_NO_UNKNOWN, "unknown")
    notes: str = text("Notes")


@record("digital_input", "Digital input")
class DigitalInput:
    """One wired digital input of a drive."""

    id: int = 0
    terminal: str = text("Drive terminal", hint="Designation in the drive type's list")
    function: str = choice("Function", choices.INPUT_FUNCTIONS, "forward")
    contact: str = choice("Contact", choices.CONTACTS, "open")
    from_device: str = text("Device", hint="Push button, switch or controller")
    from_terminal: str = text("Its terminal")
    common_terminal: str = text("Its common terminal")


@record("output", "Output")
class Output:
    """One used output of a drive."""

    id: int = 0
    kind: str = choice("Kind", choices.OUTPUT_KINDS, "relay")
    function: str = choice("Function", choices.OUTPUT_FUNCTIONS, "fault")
    terminal: str = text("Drive terminal")
    common_terminal: str = text("Drive common terminal")
    to_device: str = text("Device")
    to_terminal: str = text("Its terminal")
    to_common: str = text("Its common terminal")


@record("drivetrain", "Drivetrain")
class Drivetrain:
    """What stands between the motor shaft and the fruit."""

    id: int = 0
    gearbox: str = text("Gearbox", hint="Kind in words, e.g. worm, helical-bevel")
    gear_ratio: float | None = quantity(
        "factor", "Gear ratio", above=True, hint="Motor turns for one turn of its shaft; 1 if none"
    )
    gear_efficiency: float | None = quantity("ratio", "Gear efficiency", above=True, maximum=1.0)
    driver_teeth: int | None = whole("Driving sprocket, teeth", minimum=1)
    driven_teeth: int | None = whole("Driven sprocket, teeth", minimum=1)
    surface: str | None = choice("Moves fruit by", choices.SURFACES)
    drum_diameter_m: float | None = quantity("size", "Diameter", above=True, only=_DRUM)
    belt_thickness_m: float | None = quantity("size", "Belt thickness", only=_DRUM)
    diameter_within_m: float | None = quantity(
        "size", "Diameter known to within", only=_DRUM, hint="±, as measured"
    )
    wear_m: float | None = quantity(
        "size", "Wear to expect", only=_DRUM, hint="Loss of diameter between visits"
    )
    chain_teeth: int | None = whole("Conveyor sprocket, teeth", minimum=3, only=_SPROCKET)
    chain_pitch_m: float | None = quantity("size", "Chain pitch", above=True, only=_SPROCKET)
    load_kind: str | None = choice("Load", choices.LOAD_KINDS)
    load_fraction: float | None = quantity(
        "ratio", "Torque of rated", maximum=3.0, hint="Share of the motor's rated torque in use"
    )
    load_swing: float | None = quantity(
        "ratio", "Torque varies by", maximum=3.0, hint="±, of rated torque, empty to full"
    )
    pull_n: float | None = quantity("force", "Belt or chain pull")
    inertia_kg_m2: float | None = quantity("inertia", "Load inertia at its shaft")
    shaft_speed_max_rad_s: float | None = quantity(
        "rotation", "Highest shaft speed allowed", above=True
    )


_BRUSH = {"station.kind": "brush_bed"}
_CUPS = {"station.kind": "cup_conveyor"}
_SPIN = {"station.kind": "spin_section"}
_WATER = {"station.kind": "pump"}
_VEE = {"station.kind": "belt_pair_side"}
_TAKE = {"station.kind": "take_away"}
_ROWS = {"station.kind": ("elevator", "roller_conveyor")}
_PLAIN = {
    "station.kind": ("belt", "roller_conveyor", "belt_pair_side", "take_away", "elevator", "other")
}


@record("process", "Process")
class Process:
    """What the station does to the fruit, by kind of station."""

    id: int = 0
    brushes_forward: int | None = whole("Brushes turning forward", only=_BRUSH)
    brushes_reverse: int | None = whole("Brushes turning in reverse", only=_BRUSH)
    brush_pitch_m: float | None = quantity("size", "Brush pitch", above=True, only=_BRUSH)
    bed_width_m: float | None = quantity("size", "Bed width", above=True, only=_BRUSH)
    packing: float | None = quantity(
        "ratio", "Valleys filled at most", above=True, maximum=1.0, only=_BRUSH
    )
    travel_factor: float | None = quantity(
        "factor", "Travel factor", above=True, only=_BRUSH, hint="1 until a marked fruit was timed"
    )
    cup_pitch_m: float | None = quantity("size", "Cup pitch", above=True, only=_CUPS)
    cup_lanes: int | None = whole("Lanes", minimum=1, only=_CUPS)
    cup_fill: float | None = quantity("ratio", "Cups filled", maximum=1.0, only=_CUPS)
    encoder_pulses: int | None = whole("Encoder pulses per turn", minimum=1, only=_CUPS)
    drop_latency_s: float | None = quantity("time", "Drop latency", only=_CUPS)
    view_length_m: float | None = quantity("size", "Field of view", above=True, only=_SPIN)
    images_per_fruit: int | None = whole("Images per fruit", minimum=1, only=_SPIN)
    frames_hz: float | None = quantity("count_rate", "Frames", above=True, only=_SPIN)
    exposure_s: float | None = quantity("time", "Exposure", above=True, only=_SPIN)
    contact_factor: float | None = quantity(
        "factor", "Contact factor", above=True, only=_SPIN, hint="Radius of roller over its contact"
    )
    flume_width_m: float | None = quantity("size", "Flume width", above=True, only=_WATER)
    flume_depth_m: float | None = quantity("size", "Flume water depth", above=True, only=_WATER)
    pump_flow_m3_s: float | None = quantity("water_flow", "Pump flow at rated speed", only=_WATER)
    pump_head_m: float | None = quantity("length", "Pump head at that flow", only=_WATER)
    static_head_m: float | None = quantity("length", "Static lift", only=_WATER)
    belt_slope_rad: float | None = quantity(
        "angle", "Slope of each belt", above=True, only=_VEE, hint="From the horizontal"
    )
    row_pitch_m: float | None = quantity(
        "size", "Bar or pocket pitch", above=True, only=_ROWS, hint="Empty: fruit lie freely"
    )
    fruit_per_row: int | None = whole("Fruit in a row", minimum=1, only=_ROWS)
    size_from_m: float | None = quantity("size", "Takes sizes from", only=_TAKE)
    size_to_m: float | None = quantity("size", "Takes sizes to", only=_TAKE)
    carrying_width_m: float | None = quantity("size", "Carrying width", above=True, only=_PLAIN)
    cover_most: float | None = quantity(
        "ratio", "Covered at most", above=True, maximum=1.0, only=_PLAIN
    )
    carrying_length_m: float | None = quantity("length", "Length", above=True)
    drop_out_m: float | None = quantity("size", "Drop at its end", hint="Height that fruit falls")
    drop_onto: str | None = choice("Fruit falls onto", choices.DROP_SURFACES)


@record("cable", "Cable")
class Cable:
    """One cable run of a station."""

    id: int = 0
    run: str = choice("Run", choices.RUNS, "motor")
    cable_type: str = text("Cable")
    conductor_m2: float | None = quantity("conductor", "Conductor", above=True)
    earth_m2: float | None = quantity("conductor", "Earth conductor", above=True)
    length_m: float | None = quantity("length", "Length", hint="One way")
    screen: str = choice("Screen", choices.SCREENS, "none")
    route: str | None = choice("Laid", choices.ROUTES)
    insulation: str | None = choice("Insulation", choices.INSULATIONS)
    method: str | None = choice("Installed", choices.METHODS)
    ambient_k: float | None = quantity("temperature", "Highest ambient temperature")
    company: int | None = whole(
        "Circuits together",
        minimum=1,
        maximum=60,
        hint="This one included; under NEC rules count current-carrying conductors",
    )


@record("station", "Station")
class Station:
    """One driven place on the line: motor, drive and what it moves."""

    id: int = 0
    tag: str = text("Tag", hint="Short, e.g. ST07", unique=True)
    name: str = text("Name")
    kind: str = choice("Kind", choices.STATION_KINDS, "other")
    turn: str = choice("Turns", choices.TURNS, "forward")
    lane: int | None = whole("Lane", minimum=1)
    area: str | None = choice("Area", choices.AREAS)
    surroundings: str = text("Surroundings", hint="e.g. detergent, hot air 45 °C")
    wanted: str = choice("Wanted", choices.WANTED_BASES, "none")
    wanted_m_s: float | None = aims.surface()
    wanted_rad_s: float | None = aims.shaft()
    wanted_hz: float | None = aims.frequency()
    wanted_gap_m: float | None = aims.gap()
    wanted_pitch_m: float | None = aims.pitch()
    wanted_filled: float | None = aims.filled()
    wanted_cover: float | None = aims.cover()
    wanted_time_s: float | None = aims.time()
    wanted_drift: float | None = aims.drift()
    wanted_turns: float | None = aims.turns()
    wanted_water_m_s: float | None = aims.water()
    above_base: bool = flag(
        "Runs above rated frequency on purpose", hint="Torque falls there; say so if it is meant"
    )
    notes: str = long_text("Notes")
    motors: tuple[Motor, ...] = children(Motor)
    drive: Drive = single(Drive)
    reference: SpeedReference = single(SpeedReference)
    presets: tuple[Preset, ...] = children(Preset)
    controls: Controls = single(Controls)
    digital_inputs: tuple[DigitalInput, ...] = children(DigitalInput)
    outputs: tuple[Output, ...] = children(Output)
    drivetrain: Drivetrain = single(Drivetrain)
    process: Process = single(Process)
    cables: tuple[Cable, ...] = children(Cable)
    photos: tuple[Photo, ...] = children(Photo)

    def cable(self, run: str) -> Cable | None:
        """The cable of one run, if it was entered."""
        return next((entry for entry in self.cables if entry.run == run), None)
