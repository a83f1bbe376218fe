"""The figures that a station can have: name, kind, formula and source, each told once.

The keys are stable from the first release on: other programs read them. docs/command-line.md
lists them.
"""

from core.line.figures import Rule

_SLIP_NOTE = (
    "Estimated, confirm with a tachometer: slip follows torque and the plate has tolerance."
)

POLES = Rule(
    "poles",
    "Poles",
    "count",
    "p = largest even number with 120·f / p above rated speed",
    "IEC 60034-1 definition of synchronous speed",
)
SYNCHRONOUS_SPEED = Rule(
    "synchronous_speed_rad_s",
    "Synchronous speed",
    "rotation",
    "n₀ = 120·f / p",
    "IEC 60034-1 definition of synchronous speed",
)
RATED_SLIP = Rule(
    "rated_slip_rad_s", "Rated slip", "rotation", "Δn = n₀ − n", "definition of slip, IEC 60050-411"
)
RATED_TORQUE = Rule(
    "rated_torque_n_m", "Rated torque", "torque", "M = P / ω", "definition of power, ISO 80000-4"
)
PLATE_CURRENT = Rule(
    "plate_current_a",
    "Current by power, efficiency and power factor",
    "current",
    "I = P / (√3·U·η·cosφ)",
    "three-phase power, IEC 60034-1",
    "A check of the plate; where the plate gives a current, the plate counts.",
)
TOTAL_RATIO = Rule(
    "total_ratio",
    "Motor turns for one turn of the shaft",
    "factor",
    "i = gear ratio · driven teeth / driving teeth",
    "geometry",
)
NOW_SHARE = Rule(
    "reference_now_share",
    "Reference as set, of its travel",
    "ratio",
    "inverse of the source's law",
    "geometry of the source; loaded potentiometer by Kirchhoff's laws",
)
NOW_FREQUENCY = Rule(
    "frequency_now_hz",
    "Frequency as set",
    "frequency",
    "f = f_bottom + share·(f_top − f_bottom), held between minimum and maximum",
    "linear scaling between the drive's end settings",
)
NOW_MOTOR = Rule(
    "motor_speed_now_rad_s",
    "Motor speed as set",
    "rotation",
    "n = 120·f / p − Δn·m",
    "constant-V/f slip in proportion to torque",
    _SLIP_NOTE,
)
NOW_SHAFT = Rule(
    "shaft_speed_now_rad_s", "Shaft speed as set", "rotation", "n_shaft = n / i", "geometry"
)
NOW_SURFACE = Rule(
    "surface_speed_now_m_s",
    "Surface speed as set",
    "surface_speed",
    "v = ω·(D + t)/2, or v = n·z·p for a conveyor chain",
    "geometry; pitch line in the middle of the belt",
)
WANTED_SURFACE = Rule(
    "surface_speed_wanted_m_s", "Surface speed wanted", "surface_speed", "as entered", "entered"
)
WANTED_SHAFT = Rule(
    "shaft_speed_wanted_rad_s",
    "Shaft speed wanted",
    "rotation",
    "ω = 2·v/(D + t), or n = v/(z·p)",
    "geometry",
)
WANTED_MOTOR = Rule(
    "motor_speed_wanted_rad_s", "Motor speed wanted", "rotation", "n = n_shaft·i", "geometry"
)
WANTED_FREQUENCY = Rule(
    "frequency_wanted_hz",
    "Frequency wanted",
    "frequency",
    "f = (n + Δn·m)·p / 120",
    "constant-V/f slip in proportion to torque",
    _SLIP_NOTE,
)
MOTOR_OF_WANTED = Rule(
    WANTED_MOTOR.key,
    WANTED_MOTOR.label,
    "rotation",
    NOW_MOTOR.formula,
    NOW_MOTOR.source,
    _SLIP_NOTE,
)
SHAFT_OF_WANTED = Rule(
    WANTED_SHAFT.key, WANTED_SHAFT.label, "rotation", NOW_SHAFT.formula, NOW_SHAFT.source
)
SURFACE_OF_WANTED = Rule(
    WANTED_SURFACE.key,
    WANTED_SURFACE.label,
    "surface_speed",
    NOW_SURFACE.formula,
    NOW_SURFACE.source,
)
WANTED_SIGNAL_V = Rule(
    "signal_wanted_v",
    "Signal needed at the drive",
    "voltage",
    "inverse of the drive's scaling",
    "linear scaling between the drive's end settings",
)
WANTED_SIGNAL_A = Rule(
    "signal_wanted_a",
    "Signal needed at the drive",
    "signal_current",
    "inverse of the drive's scaling",
    "linear scaling between the drive's end settings",
)
WANTED_SHARE = Rule(
    "reference_wanted_share",
    "Reference needed, of its travel",
    "ratio",
    "inverse of the source's law; a potentiometer is loaded by the drive's input",
    "Kirchhoff's laws",
)
WANTED_COUNT = Rule(
    "dac_count_wanted", "DAC count needed", "count", "share · (2ⁿ − 1), rounded", "definition"
)
POT_CURRENT = Rule(
    "pot_current_a",
    "Current through the potentiometer",
    "signal_current",
    "I = U / R",
    "Ohm's law",
)

ALL_RULES = tuple(value for value in list(globals().values()) if isinstance(value, Rule))
