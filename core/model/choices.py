"""The closed lists of words that fields of the line file choose from.

The stored word is the key; the shown word is the value. Words come from the trade, from IEC and
NEMA usage, or are plain English.
"""

UNIT_SYSTEMS = {"metric": "Metric", "us": "US customary"}
WIRING_RULES = {"nec": "NEC (NFPA 70)", "iec": "IEC 60364 / 60204"}
LANGUAGES = {"en": "English", "es": "Spanish"}
PAPERS = {"a4": "A4", "letter": "Letter"}

THROUGHPUT_BASES = {"bins": "Bins per hour", "mass": "Mass per hour", "fruit": "Fruit per second"}

SUPPLY_KINDS = {
    "1ph_120": "1-phase 120 V",
    "1ph_240": "1-phase 240 V, two-wire",
    "split_120_240": "1-phase 120/240 V, three-wire",
    "1ph_230": "1-phase 230 V, line to neutral",
    "3ph_208y_120": "3-phase 208Y/120 V",
    "3ph_240d": "3-phase 240 V delta",
    "3ph_400y_230": "3-phase 400Y/230 V",
    "3ph_480y_277": "3-phase 480Y/277 V",
}
SUPPLY_LINES = {
    "L1 N": "L1 and N",
    "L2 N": "L2 and N",
    "L3 N": "L3 and N",
    "L1 L2": "L1 and L2",
    "L2 L3": "L2 and L3",
    "L3 L1": "L3 and L1",
    "L1 L2 L3": "L1, L2 and L3",
}
RCD_TYPES = {"none": "None", "ac": "Type AC", "a": "Type A", "f": "Type F", "b": "Type B"}

MOUNTINGS = {
    "single_free": "Alone, free-standing",
    "single_wall": "Alone, on a wall",
    "end_free": "End of a row, free-standing",
    "end_wall": "End of a row, on a wall",
    "middle_free": "Middle of a row, free-standing",
    "middle_wall": "Middle of a row, on a wall",
    "middle_wall_covered": "Middle of a row, on a wall, top covered",
}
MATERIALS = {
    "painted_steel": "Painted steel",
    "stainless_steel": "Stainless steel",
    "aluminium": "Aluminium",
    "plastic": "Plastic",
}

STATION_KINDS = {
    "pump": "Pump",
    "elevator": "Elevator",
    "brush_bed": "Brush bed",
    "belt": "Belt",
    "roller_conveyor": "Roller conveyor",
    "belt_pair_side": "Belt pair side",
    "spin_section": "Spin section",
    "cup_conveyor": "Cup conveyor",
    "take_away": "Take-away",
    "fan": "Fan",
    "other": "Other",
}
AREAS = {"dry": "Dry", "damp": "Damp", "washdown": "Washdown"}
TURNS = {"forward": "Forward", "reverse": "Reverse"}
WANTED_BASES = {
    "none": "Not stated",
    "surface": "Surface speed",
    "shaft": "Shaft speed",
    "frequency": "Frequency",
    "pair": "Ratio to its pair",
    "touching": "Fruit touching",
    "gap": "Gap between fruit",
    "pitch": "Pitch of fruit",
    "cover": "Belt covered",
    "time": "Time on it",
    "drift": "Drift over brushes",
    "turns": "Turns in view",
    "cups": "Cups at their fill",
    "water": "Water speed in the flume",
}
"""On what the speed that a station should have rests."""
DROP_SURFACES = {
    "hard": "Hard and flat",
    "bar": "Round bar or edge",
    "padded": "Padded",
    "belt": "Slack belt",
    "brush": "Brushes",
    "water": "Water",
    "fruit": "Other fruit",
}
PAIR_BASES = {"differential": "Differential", "ratio": "Ratio of first to second"}

MOTOR_STANDARDS = {"iec": "IEC", "nema": "NEMA"}
CONNECTIONS = {
    "delta": "Delta (Δ)",
    "star": "Star (Y)",
    "parallel_star": "Parallel star (YY)",
    "series_star": "Series star (Y)",
}
CONNECTED_FOR = {"low": "The lower voltage", "high": "The higher voltage"}
INSULATION_CLASSES = {letter: letter for letter in "AEBFH"}
COOLINGS = {
    "own_fan": "Own fan (IC 411)",
    "forced": "Forced fan (IC 416)",
    "none": "No fan (IC 410)",
}
THERMAL_SENSORS = {
    "none": "None",
    "switch": "Thermal switch",
    "ptc": "PTC thermistor",
    "pt100": "Pt100",
}
YES_NO_UNKNOWN = {"unknown": "Not known", "yes": "Yes", "no": "No"}

INPUT_PHASES = {"1": "1-phase", "3": "3-phase", "1_or_3": "1- or 3-phase"}
SIGNALS = {"voltage": "Voltage", "current": "Current"}
TERMINAL_ROLES = {
    "line_1": "Power in, first line",
    "line_2": "Power in, second line or neutral",
    "line_3": "Power in, third line",
    "earth": "Protective earth",
    "motor_u": "Motor, first lead",
    "motor_v": "Motor, second lead",
    "motor_w": "Motor, third lead",
    "reference_supply": "Supply for the potentiometer",
    "reference_in": "Reference input",
    "reference_common": "Reference common",
    "digital_in": "Digital input",
    "digital_common": "Digital common",
    "control_supply": "24 V for controls",
    "relay_common": "Relay, common",
    "relay_open": "Relay, normally open",
    "relay_closed": "Relay, normally closed",
    "analogue_out": "Analogue output",
    "bus_plus": "Bus, positive line",
    "bus_minus": "Bus, negative line",
    "bus_common": "Bus common",
    "brake": "Braking resistor",
    "safety_in": "Safety input",
    "screen": "Screen clamp",
    "other": "Other",
}
SETTING_ROLES = {
    "none": "No meaning to Linebook",
    "frequency_max": "Maximum frequency",
    "frequency_min": "Minimum frequency",
    "ramp_up": "Acceleration time",
    "ramp_down": "Deceleration time",
    "hz_at_reference_low": "Frequency at the bottom of the reference",
    "hz_at_reference_high": "Frequency at the top of the reference",
    "reference_range": "Range of the reference input",
    "reference_source": "Where the speed reference comes from",
    "command_source": "Where start and stop come from",
    "motor_voltage": "Motor rated voltage",
    "motor_current": "Motor rated current",
    "motor_frequency": "Motor rated frequency",
    "motor_speed": "Motor rated speed",
    "overload_current": "Motor overload current",
    "slip_compensation": "Slip compensation",
    "carrier_frequency": "Switching frequency",
    "stop_mode": "Way of stopping",
    "restart_after_power": "Restart when power returns",
    "loss_action": "Action on lost reference",
    "loss_frequency": "Frequency on lost reference",
    "direction": "Direction allowed",
    "jog_frequency": "Jog frequency",
    "keypad_frequency": "Frequency set at the keypad",
    "preset_frequency": "Preset frequency",
    "digital_input": "Function of a digital input",
    "relay_function": "Function of the relay",
    "analogue_out_function": "Function of the analogue output",
    "bus_address": "Bus address",
    "bus_speed": "Bus speed",
    "bus_parity": "Bus parity",
    "pid_setpoint": "PID set point",
    "pid_gain": "PID gain",
    "pid_integral": "PID integral time",
}

REFERENCE_SOURCES = {
    "potentiometer": "Potentiometer",
    "voltage": "Voltage signal",
    "current": "Current signal",
    "dac": "Controller's DAC",
    "keypad": "Keypad",
    "preset": "Preset speeds",
    "bus": "Serial bus",
    "pid": "Built-in PID",
}
TAPERS = {"linear": "Linear", "log": "Logarithmic", "reverse_log": "Reverse logarithmic"}
LOSS_ACTIONS = {
    "unknown": "Not known",
    "stop": "Stop",
    "hold": "Hold the last speed",
    "minimum": "Run at the minimum frequency",
    "preset": "Run at a set frequency",
    "trip": "Trip",
    "nothing": "No action",
}

LOGICS = {"source": "Source (inputs switched to +24 V)", "sink": "Sink (inputs switched to common)"}
START_MODES = {
    "two_wire": "2-wire (contact held)",
    "three_wire": "3-wire (push buttons)",
    "keypad": "Keypad",
    "bus": "Serial bus",
}
STOP_CATEGORIES = {
    "none": "Not stated",
    "0": "Category 0",
    "1": "Category 1",
    "2": "Category 2",
}
EMERGENCY_STOPS = {
    "none": "None at this station",
    "safety_function": "Safety input of the drive",
    "supply_contactor": "Contactor in the supply",
    "digital_input": "Ordinary digital input only",
}
INPUT_FUNCTIONS = {
    "forward": "Forward",
    "reverse": "Reverse",
    "start": "Start (3-wire)",
    "stop": "Stop",
    "jog": "Jog",
    "preset_1": "Preset, bit 1",
    "preset_2": "Preset, bit 2",
    "preset_3": "Preset, bit 3",
    "reset": "Fault reset",
    "enable": "Enable",
    "external_fault": "External fault",
    "local_remote": "Local or remote",
    "second_reference": "Second reference",
    "emergency_stop": "Emergency stop",
    "other": "Other",
}
CONTACTS = {"open": "Normally open", "closed": "Normally closed"}
OUTPUT_KINDS = {"relay": "Relay", "transistor": "Transistor", "analogue": "Analogue"}
OUTPUT_FUNCTIONS = {
    "running": "Running",
    "fault": "Fault",
    "ready": "Ready",
    "at_speed": "At speed",
    "frequency": "Output frequency",
    "current": "Output current",
    "other": "Other",
}

SURFACES = {
    "drum": "Drum, roller or brush",
    "sprocket": "Conveyor sprocket",
    "none": "None (pump, fan)",
}
LOAD_KINDS = {
    "constant_torque": "Constant torque (belts, chains)",
    "quadratic": "Torque with the square of speed (pumps, fans)",
}

RUNS = {
    "power_in": "Power in",
    "motor": "Motor",
    "reference": "Reference",
    "controls": "Controls",
    "outputs": "Outputs",
    "bus": "Bus",
}
SCREENS = {
    "none": "No screen",
    "drive": "Earthed at the drive",
    "far": "Earthed at the far end",
    "both": "Earthed at both ends",
    "open": "Not earthed",
}
ROUTES = {
    "own": "On its own",
    "controls": "With control wires",
    "motor": "With motor leads",
    "power": "With power wires",
}

DEVICES = {
    "breaker": "Breaker, inverse time",
    "breaker_b": "Breaker, characteristic B",
    "breaker_c": "Breaker, characteristic C",
    "breaker_d": "Breaker, characteristic D",
    "fuse": "Fuse, gG",
    "delay_fuse": "Fuse, time delay",
    "plain_fuse": "Fuse, no time delay",
}
TERMINAL_RATINGS = {"60": "60 °C", "75": "75 °C"}
INSULATIONS = {
    "pvc": "PVC, 70 °C",
    "xlpe": "XLPE or EPR, 90 °C",
    "60": "60 °C conductors",
    "75": "75 °C conductors",
    "90": "90 °C conductors",
}
METHODS = {
    "A1": "A1: wires in conduit in an insulated wall",
    "A2": "A2: cable in conduit in an insulated wall",
    "B1": "B1: wires in conduit or trunking on a wall",
    "B2": "B2: cable in conduit or trunking on a wall",
    "C": "C: cable on a wall",
    "D1": "D1: cable in a duct in the ground",
    "D2": "D2: cable in the ground",
    "E": "E: cable in free air or on a tray",
    "pvc": "Conduit, PVC",
    "aluminium": "Conduit, aluminium",
    "steel": "Conduit, steel",
}

BUS_PROTOCOLS = {"modbus_rtu": "Modbus RTU", "modbus_tcp": "Modbus TCP", "other": "Other"}
PARITIES = {"even": "Even", "odd": "Odd", "none": "None"}
FLOW_KINDS = {
    "forward": "Carries fruit on",
    "cull": "Carries culls away",
    "return": "Returns empty",
}

STAGES = {
    "before_power": "Before power",
    "first_power": "First power",
    "uncoupled": "Uncoupled",
    "coupled": "Coupled",
    "speed_reference": "Speed reference",
    "with_fruit": "Line with fruit",
    "handover": "Handover",
}
"""Groups of checks in the order of the work."""
CHECK_SUBJECTS = {"station": "Every station", "line": "The line as a whole"}
CHECK_FORMS = {"yes_no": "Yes or no", "reading": "A reading", "choice": "A choice"}
READING_KINDS = {
    "voltage": "Voltage",
    "current": "Current",
    "frequency": "Frequency",
    "rotation": "Rotation",
    "surface_speed": "Surface speed",
    "resistance": "Resistance",
    "insulation": "Insulation resistance",
    "time": "Time",
    "temperature": "Temperature",
    "ratio": "Share",
    "size": "Size",
    "factor": "Number",
}
ANSWERS = {
    "open": "Open",
    "yes": "Yes",
    "no": "No",
    "reading": "Reading",
    "choice": "Choice",
    "not_applicable": "Does not apply",
}
CALIBRATION_STATES = {"found": "As found", "left": "As left"}
DIRECTIONS = {
    "up": "Upwards",
    "down": "Downwards",
    "wanted": "End as wanted",
    "set": "End as set then",
}
"""Readings go up or down. The other two are no readings but what is wanted at 0 and 100 %, and how
the drive's ends stood while it was read; without them a later setting would change the past."""

SETTING_ORIGINS = {
    "entered": "Entered",
    "read": "Read at the drive",
    "not_read": "Not read; value as recorded before",
}
REGISTER_FORMS = {
    "u16": "16 bits, unsigned",
    "s16": "16 bits, signed",
    "u32": "32 bits, unsigned",
    "s32": "32 bits, signed",
    "f32": "32 bits, IEEE 754",
}
REGISTER_WORDS = {"high_first": "High word first", "low_first": "Low word first"}
REGISTER_TABLES = {"holding": "Holding registers", "input": "Input registers"}

PHOTO_SUBJECTS = {
    "motor_plate": "Nameplate of the motor",
    "drive_plate": "Nameplate of the drive",
    "wiring": "Wiring",
    "other": "Something else",
}
