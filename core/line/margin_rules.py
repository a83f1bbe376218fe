"""The figures of a station's margins: name, kind, formula and source."""

from core.line.figures import Rule

TORQUE_AT_TOP = Rule(
    "torque_at_top_share",
    "Torque the motor gives at maximum frequency",
    "ratio",
    "1 up to base frequency, f_b/f above",
    "constant V/f below, constant power above rated frequency",
    "Of rated torque; cooling at low speed is another figure.",
)
LOAD_AT_TOP = Rule(
    "load_at_top_share",
    "Torque the load asks at maximum frequency",
    "ratio",
    "m, or m·(f/f_b)² for pumps and fans",
    "affinity laws for pumps and fans; constant for belts and chains",
)
COOLED_FROM = Rule(
    "cooled_from_hz",
    "Own fan cools the load from",
    "frequency",
    "lowest frequency whose cooled torque is at least the load's",
    "the maker's lowest frequency as entered, else a rule of thumb (common practice)",
    "An own fan moves less air when it turns slower.",
)
INERTIA = Rule(
    "inertia_at_motor_kg_m2",
    "Inertia at the motor",
    "inertia",
    "J = J_rotor + J_load/i²",
    "kinetic energy through a gear",
)
OVERLOAD_TORQUE = Rule(
    "overload_torque_share",
    "Torque within the drive's overload",
    "ratio",
    "from the overload current less the magnetising current",
    "phasor of an induction motor at rated flux",
    "Of rated torque.",
)
SHORTEST_UP = Rule(
    "acceleration_shortest_s",
    "Shortest acceleration",
    "time",
    "t = J·ω/(M_overload − M_load)",
    "Newton's second law for rotation",
)
SHORTEST_DOWN = Rule(
    "deceleration_shortest_s",
    "Shortest deceleration without brake resistor",
    "time",
    "stopping energy less losses and load into the bus capacitors up to their trip voltage",
    "energy balance of the bus; ½·C·U²",
    "Losses of motor and drive are left out, which is the safe side.",
)
INPUT_STEP = Rule(
    "reference_step_hz",
    "One step of the reference input",
    "frequency",
    "(f_top − f_bottom)/(2ⁿ − 1)",
    "definition of resolution",
)
REFERENCE_SPREAD = Rule(
    "frequency_uncertainty_hz",
    "Uncertainty of the frequency (k = 2)",
    "frequency",
    "U = 2·√(Σ u_i²), rectangular bounds",
    "JCGM 100:2008 (GUM), 5.1.2 and 4.3.7",
    "The setting of the knob itself and slip are not in it.",
)

ALL_MARGIN_RULES = tuple(value for value in list(globals().values()) if isinstance(value, Rule))
