"""The figures of the speed plan: name, kind, formula and source, each told once.

Several rules share one key where a speed can be wanted on several bases.
"""

from core.line.figures import Rule
from core.line.rules import WANTED_SHAFT, WANTED_SURFACE

_COUNTING = "counting; no fruit is made or lost"
_INDEX = (
    "An index, not a speed: with dry sliding a difference of two speeds moves nothing by itself. "
    "Time a marked fruit once and store the factor."
)

MASS_FLOW = Rule(
    "mass_flow_kg_s", "Mass fed", "mass_flow", "bins per hour · mass of fruit in a bin", _COUNTING
)
FEED = Rule("feed_1_s", "Fruit fed", "count_rate", "q = mass flow / mass of one fruit", _COUNTING)
FLOW = Rule(
    "fruit_flow_1_s",
    "Fruit to carry",
    "count_rate",
    "feed, less culls, by the shares of the links",
    _COUNTING,
)


def _wanted(formula: str, source: str, note: str = "") -> Rule:
    held = WANTED_SURFACE
    return Rule(held.key, held.label, held.kind, formula, source, note)


WANTED_OF_PITCH = _wanted(
    "v = q·p / (lanes·filled)", "one fruit for each place in file", "Mean pitch; gaps spread."
)
WANTED_OF_COVER = _wanted("v = q·D² / (W·cover)", "area of fruit lying over a belt")
WANTED_OF_TIME = _wanted("v = L / t", "definition of speed")
WANTED_OF_CUPS = _wanted("v = q·p / (lanes·fill)", "one fruit for each filled cup")
WANTED_OF_TURNS = _wanted(
    "v_spin = v_carrier − turns·π·D·v_carrier / (κ·L)",
    "rolling without slip; reference relation C1",
    "An index: fruit slips on its rollers, and a long fruit turns about its own axis.",
)
WANTED_OF_DIFFERENTIAL = _wanted(
    "v = mean·(1 ± d/2)", "definition of the differential, on their mean"
)
WANTED_OF_RATIO = _wanted("v = ratio · speed of the other", "definition of the ratio")
WANTED_OF_DRIFT = _wanted(
    "v = 2·drift/k below or above the other row", "mean of two surface speeds", _INDEX
)
WANTED_SHAFT_OF_WATER = Rule(
    WANTED_SHAFT.key,
    WANTED_SHAFT.label,
    WANTED_SHAFT.kind,
    "n = n_rated · Q / Q_rated with Q = v·b·y",
    "affinity laws; continuity in the flume",
    "A rough check: with static lift the flow falls faster than the speed.",
)

CAPACITY = Rule(
    "capacity_1_s",
    "Carries at most",
    "count_rate",
    "by kind of station: places passing per second",
    "counting of places; brush beds by their drift index",
)
USE = Rule(
    "used_share",
    "Of what it carries at most",
    "ratio",
    "fruit to carry / capacity",
    _COUNTING,
)
SPEED_NEEDED = Rule(
    "surface_speed_needed_m_s",
    "Slowest speed that carries it",
    "surface_speed",
    "v · fruit to carry / capacity",
    "capacity in proportion to speed",
)

PITCH = Rule(
    "pitch_m",
    "Pitch of fruit",
    "size",
    "p = v·lanes / q",
    _COUNTING,
    "A mean: the smallest gap decides on doubles.",
)
GAP = Rule("gap_m", "Mean gap between fruit", "size", "p − D", "geometry", "A mean.")
FRUIT_ON = Rule("fruit_on_it", "Fruit on it", "factor", "N = q·L / v", "Little's law")
TIME_ON = Rule("time_on_it_s", "Time on it", "time", "t = L / v", "definition of speed")
MASS_ON = Rule(
    "mass_on_length_kg_m", "Fruit on a length of it", "mass_on_length", "q·m / v", _COUNTING
)
COVER = Rule("cover_share", "Belt covered", "ratio", "q·D² / (v·W)", "area of fruit over a belt")

DRIFT = Rule(
    "drift_index_m_s", "Drift index", "surface_speed", "k·(V₁ − V₂)/2", "mean of two speeds", _INDEX
)
SCRUB = Rule(
    "scrub_index_m_s",
    "Scrub index",
    "surface_speed",
    "(V₁ + V₂)/2",
    "half the difference of two speeds",
    "An index: bristles give, fruit turn.",
)
DRIFT_NEEDED = Rule(
    "drift_needed_m_s",
    "Drift needed",
    "surface_speed",
    "q·p / fruit in a valley",
    "Little's law over the places of the bed",
)
PLACES = Rule("places", "Places on the bed", "factor", "valleys · W/D · packing", "counting")
PLACES_USED = Rule(
    "places_used_share",
    "Places used",
    "ratio",
    "drift needed / drift index",
    "Little's law",
    "At 100 % the bed floods.",
)
TIME_ON_BRUSHES = Rule(
    "time_on_brushes_s", "Time on the brushes", "time", "t = L / drift index", "definition", _INDEX
)
TIME_BY_PLACES = Rule(
    "time_by_places_s",
    "Time with every place taken",
    "time",
    "t = N / q",
    "Little's law; exact in steady state",
)

VEE_MEAN = Rule(
    "mean_speed_m_s", "Mean speed of the V", "surface_speed", "(v_a + v_b)/2", "geometry"
)
VEE_TURNING = Rule(
    "turning_rad_s",
    "Fruit turns about the vertical",
    "rotation",
    "ω = (v_a − v_b) / (D·sin β)",
    "rolling on two contacts; reference relation V1",
    "An index: right in sign and size only. Fruit slip, roll and touch each other.",
)
VEE_SEPARATION = Rule(
    "separation_length_m",
    "Two side by side part within",
    "length",
    "L = mean·D / (v_a − v_b)",
    "geometry",
    "An index.",
)

CARRIER = Rule(
    "carrier_speed_m_s", "Speed of the carrier", "surface_speed", "as planned there", "plan"
)
TURNS = Rule(
    "turns_in_view",
    "Turns in view",
    "factor",
    "κ·|v_c − v_s|·L / (v_c·π·D)",
    "rolling without slip; reference relation C1",
    "An index: fruit slips on its rollers, and a long fruit turns about its own axis.",
)
DWELL = Rule("time_in_view_s", "Time in view", "time", "t = L / v_c", "definition of speed")
ANGLE = Rule("angle_per_image_rad", "Turn from image to image", "angle", "2π·turns / N", "geometry")
FRAMES_NEEDED = Rule(
    "frames_needed_hz", "Frames needed", "frequency", "images / time in view", "counting"
)
IMAGES = Rule(
    "images_in_view", "Images of one fruit", "factor", "frames · time in view", "counting"
)
BLUR = Rule(
    "blur_m",
    "Blur in one exposure",
    "size",
    "(v_c + u) · exposure, at most",
    "motion during the exposure",
    "The most there can be, where travel and turning add up.",
)

CUPS_RATE = Rule("cups_1_s", "Cups in each lane", "count_rate", "v / p", "counting")
FILL_NEEDED = Rule(
    "fill_needed_share", "Fill that it takes", "ratio", "q / (lanes·v/p)", "counting"
)
PULSES = Rule(
    "pulses_per_cup",
    "Encoder pulses for one cup",
    "factor",
    "PPR · p_cup / (z·p_chain)",
    "geometry",
    "Where it is no whole number, count anew at every cup, or the count drifts.",
)
POSITION_STEP = Rule(
    "position_step_m", "Step of the cup position", "size", "z·p_chain / (4·PPR)", "quadrature"
)
LEAD = Rule("drop_lead_m", "Lead for the drop", "size", "v · latency", "definition of speed")
LEAD_CUPS = Rule("drop_lead_cups", "Lead in cups", "factor", "lead / cup pitch", "geometry")
LEAD_CHANGE = Rule(
    "drop_lead_change_m",
    "Lead changes for each 10 % of speed",
    "size",
    "0.1 · v · latency",
    "derivative of the lead",
)

WATER_FLOW = Rule(
    "water_flow_m3_s",
    "Water pumped",
    "water_flow",
    "Q = Q_rated · n / n_rated",
    "affinity laws",
    "A rough check: with static lift the flow falls faster than the speed.",
)
WATER_SPEED = Rule(
    "water_speed_m_s", "Speed of the water", "surface_speed", "v = Q / (b·y)", "continuity"
)
FROUDE = Rule(
    "froude",
    "Froude number of the flume",
    "factor",
    "v / √(g·y)",
    "open-channel flow",
    "Below 1 the water stays calm.",
)
BINS_CARRIED = Rule(
    "bins_1_s",
    "Bins that the flume carries away",
    "bin_rate",
    "v·b·cover/D² · m / mass in a bin",
    "fruit lying over the water, 80 % of it",
    "A rough check: fruit crowd and raft.",
)
DROP_SPEED = Rule(
    "drop_speed_m_s", "Speed of the fall at its end", "surface_speed", "v = √(2·g·h)", "free fall"
)
DROP_ENERGY = Rule("drop_energy_j", "Energy of that fall", "energy", "m·g·h", "free fall")

ALL_PLAN_RULES = tuple(value for value in list(globals().values()) if isinstance(value, Rule))
