"""The figures of supplies and enclosures: name, kind, formula and source, each told once.

The keys are stable: other programs read them. docs/command-line.md lists them.
"""

from core.line.figures import Rule

_AID = "An aid: local code, the authority and a licensed person decide."
_NEC = "NEC 2023 (NFPA 70-2023)"
_HEAT = "An estimate of the mean inside, all drives running: measure inside on a hot day."

LINE_CURRENTS = {
    line: Rule(
        f"line_current_{line.lower()}_a",
        f"Load in {line}",
        "current",
        "demand · sum of the drives' input currents + other load",
        "Kirchhoff's current law, effective values added (common practice)",
        "On a wye, loads between two lines add up to 15 % too much: the safe side.",
    )
    for line in ("L1", "L2", "L3")
}
HEAVIEST = Rule(
    "heaviest_line_a",
    "Load of the heaviest line",
    "current",
    "largest of the loads of the lines",
    "definition",
)
USED = Rule(
    "service_used_share",
    "Heaviest line, of service rating",
    "ratio",
    "load of the heaviest line / service rating",
    "definition",
)
NEC_FEEDER = Rule(
    "feeder_current_a",
    "Current the feeder has to carry",
    "current",
    "demand · sum of the input currents + 0.25 · largest + other load, where that is most",
    f"{_NEC} 430.24, 430.26; drives by rated input current 430.122(D) (from memory)",
    _AID,
)
IEC_FEEDER = Rule(
    "feeder_current_a",
    "Current the feeder has to carry",
    "current",
    "I_b = load of the heaviest line",
    "IEC 60364-4-43:2008 433.1",
    _AID,
)
NEC_FEEDER_ALLOWED = Rule(
    "feeder_allowed_a",
    "Feeder conductor as entered may carry",
    "current",
    "table · ambient · bundling, held to the terminals' column",
    f"{_NEC} Table 310.16, 310.15(B), 310.15(C), 310.15(E), 110.14(C)",
    _AID,
)
IEC_FEEDER_ALLOWED = Rule(
    "feeder_allowed_a",
    "Feeder conductor as entered may carry I_z",
    "current",
    "I_z = table · temperature · grouping",
    "IEC 60364-5-52:2009 Annex B",
    _AID,
)
IMBALANCE = Rule(
    "imbalance_share",
    "Unevenness of the lines",
    "ratio",
    "largest deviation from the mean of the lines, over that mean",
    "same form as the voltage unbalance of NEMA MG 1; common practice",
)
NEUTRAL = Rule(
    "neutral_current_a",
    "Current in the neutral",
    "current",
    "root of the sum of squares over harmonics 1, 3, 5 of |sum of the lines at their angles|",
    "Kirchhoff's current law for each harmonic",
    "Of the drives fed line to neutral; other load is left out.",
)
NEUTRAL_OF_TWO_WIRES = Rule(
    "neutral_current_a",
    "Current in the neutral",
    "current",
    "demand · sum of the input currents",
    "Kirchhoff's current law",
    "Of the drives fed line to neutral; other load is left out.",
)

HEAT_INSIDE = Rule(
    "heat_inside_w",
    "Heat of the drives in it",
    "loss_power",
    "sum of the drives' losses",
    "losses as entered; where not, the reference losses of Regulation (EU) 2019/1781 (from memory)",
)
HEAT_ALLOWED = Rule(
    "heat_allowed_w",
    "Heat it carries away",
    "loss_power",
    "(k·A + c·q)·(T_inside − T_outside)",
    "simple rule of enclosure cooling (common practice); A by IEC TR 60890, factors from memory",
    _HEAT,
)
INSIDE = Rule(
    "inside_temperature_k",
    "Reaches inside",
    "temperature",
    "T_outside + P / (k·A + c·q)",
    "simple rule of enclosure cooling (common practice); A by IEC TR 60890, factors from memory",
    _HEAT,
)

ALL_SUPPLY_RULES = (
    *LINE_CURRENTS.values(),
    HEAVIEST,
    USED,
    NEC_FEEDER,
    IEC_FEEDER,
    NEC_FEEDER_ALLOWED,
    IEC_FEEDER_ALLOWED,
    IMBALANCE,
    NEUTRAL,
    NEUTRAL_OF_TWO_WIRES,
)
ALL_ENCLOSURE_RULES = (HEAT_INSIDE, HEAT_ALLOWED, INSIDE)
