"""The figures of a calibrated reference, in words."""

from core.line.figures import Rule

_IEC = "IEC 61298-2:2008, 4.1 (conformity, terminal based and best fit; hysteresis; from memory)"

WORST = Rule(
    "calibration_worst_hz",
    "Largest deviation",
    "frequency",
    "frequency read − frequency wanted, the largest",
    "definition",
    "Wanted is the straight line between both ends, held by minimum and maximum frequency.",
)
LIMIT = Rule(
    "calibration_limit_hz",
    "Limit, ± (k = 2)",
    "frequency",
    "2 · √(Σ uᵢ²) over setting, signal, drive input and steps",
    "JCGM 100:2008 (GUM), 5.1 and 6.2",
    "What the reference cannot hold better as it is entered; less than that is no fault.",
)
ZERO = Rule(
    "calibration_zero_hz",
    "Zero error",
    "frequency",
    "best straight line at 0 % − bottom wanted",
    _IEC,
)
SPAN = Rule(
    "calibration_span_hz",
    "Span error",
    "frequency",
    "rise of the best straight line from 0 to 100 % − span wanted",
    _IEC,
)
TERMINAL = Rule(
    "calibration_linearity_terminal_hz",
    "Linearity, terminal based",
    "frequency",
    "largest distance from the line through the means at both ends",
    _IEC,
)
BEST = Rule(
    "calibration_linearity_best_hz",
    "Linearity, best fit",
    "frequency",
    "largest distance from the best straight line (least squares)",
    _IEC,
)
HYSTERESIS = Rule(
    "calibration_hysteresis_hz",
    "Hysteresis",
    "frequency",
    "largest difference between going up and going down at one place",
    _IEC,
)
AFTER = Rule(
    "calibration_after_hz",
    "Largest deviation left after setting",
    "frequency",
    "the same readings, scaled anew between the new ends",
    "linear scaling between the drive's end settings",
    "What is left is bow, hysteresis and rounding at the keypad; no setting of the ends mends it.",
)
OF_LINE = {
    "zero_error_hz": ZERO,
    "span_error_hz": SPAN,
    "linearity_terminal_hz": TERMINAL,
    "linearity_best_hz": BEST,
}
"""Figures that the straight lines give, by their names in `core.calc.calibration.Calibrated`."""
