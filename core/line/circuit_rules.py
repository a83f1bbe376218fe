"""The figures of a branch circuit: name, kind, formula and source with its edition."""

from core.line.figures import Rule

_NEC = "NEC 2023 (NFPA 70-2023)"
_AID = "An aid: local code, the authority and a licensed person decide."

RUNNING_CURRENT = Rule(
    "running_current_a",
    "Motor current expected",
    "current",
    "I = I_N·√((m·cosφ)² + sin²φ), summed over the motors",
    "phasor of an induction motor at rated flux",
    "Estimated, compare with a clamp meter at the drive's output.",
)
INPUT_CURRENT = Rule(
    "input_current_a",
    "Input current of the drive",
    "current",
    "rated input current as entered",
    "the drive's rating plate or manual, as entered",
)
INPUT_CURRENT_ESTIMATE = Rule(
    "input_current_a",
    "Input current of the drive",
    "current",
    "I = P / (η_motor·η_drive·U·λ), /√3 on three phases",
    "power balance; true power factor λ assumed (common practice)",
    "An estimate: enter the drive's rated input current.",
)
NEC_DESIGN = Rule(
    "branch_design_current_a",
    "Current the conductor has to carry",
    "current",
    "1.25 · rated input current",
    f"{_NEC} 430.122(A)",
    _AID,
)
NEC_CONDUCTOR = Rule(
    "conductor_needed_m2",
    "Smallest conductor",
    "conductor",
    "table · ambient · bundling, held to the terminals' column, at least the current above",
    f"{_NEC} Table 310.16, 310.15(B), 310.15(C), 110.14(C)",
    _AID,
)
NEC_ALLOWED = Rule(
    "conductor_allowed_a",
    "Conductor as entered may carry",
    "current",
    "table · ambient · bundling, held to the terminals' column",
    f"{_NEC} Table 310.16, 310.15(B), 310.15(C), 110.14(C)",
    _AID,
)
NEC_TABLE_DEVICE = Rule(
    "protection_by_table_a",
    "Highest branch protection by the table",
    "current",
    "share of Table 430.52 of the motor's table current, next size up",
    f"{_NEC} 430.52(C)(1), Table 430.250, 240.6(A)",
    _AID,
)
NEC_DEVICE = Rule(
    "protection_highest_a",
    "Highest branch protection",
    "current",
    "share of Table 430.52 of the motor's table current, next size up; the marking wins",
    f"{_NEC} 430.52, 430.130, 240.6(A)",
    _AID,
)
NEC_EARTH = Rule(
    "earth_needed_m2",
    "Smallest earth conductor",
    "conductor",
    "Table 250.122 by the protection, grown with the lines",
    f"{_NEC} 250.122(A), (B)",
    _AID,
)
NEC_DROP = Rule(
    "branch_drop_share",
    "Voltage drop in the branch",
    "ratio",
    "2·I·Z·L/U, on three phases √3·I·Z·L/U",
    f"{_NEC} Chapter 9 Table 9; 3 % is an informational note to 210.19",
    _AID,
)
IEC_DESIGN = Rule(
    "branch_design_current_a",
    "Design current I_b",
    "current",
    "I_b = rated input current",
    "IEC 60364-4-43:2008 433.1",
    _AID,
)
IEC_DEVICE = Rule(
    "protection_lowest_a",
    "Smallest protection I_n",
    "current",
    "next standard rating not below I_b",
    "IEC 60364-4-43:2008 433.1; ratings IEC 60898-1, IEC 60269",
    _AID,
)
IEC_ALLOWED = Rule(
    "conductor_allowed_a",
    "Conductor as entered may carry I_z",
    "current",
    "I_z = table · temperature · grouping",
    "IEC 60364-5-52:2009 Annex B",
    _AID,
)
IEC_CONDUCTOR = Rule(
    "conductor_needed_m2",
    "Smallest conductor",
    "conductor",
    "I_z at least I_n, and 1.45·I_z at least I_2",
    "IEC 60364-4-43:2008 433.1; IEC 60364-5-52:2009 Annex B",
    _AID,
)
IEC_EARTH = Rule(
    "earth_needed_m2",
    "Smallest earth conductor",
    "conductor",
    "by the line conductors; 10 mm² above 10 mA of leakage",
    "IEC 60364-5-54:2011 Table 54.2, 543.7",
    _AID,
)
IEC_DROP = Rule(
    "branch_drop_share",
    "Voltage drop in the branch",
    "ratio",
    "u = b·(ρ·L/S·cosφ + λ·L·sinφ)·I_b, over U",
    "IEC 60364-5-52:2009 Annex G",
    _AID,
)

ALL_CIRCUIT_RULES = tuple(value for value in list(globals().values()) if isinstance(value, Rule))
