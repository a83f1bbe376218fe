"""The words of the calibration of speed references, for `core.sheets.words`."""

from collections.abc import Mapping

ENGLISH: Mapping[str, str] = {
    "calibration": "Calibration of the speed reference",
    "calibrations": "Calibration of speed references",
    "calibration_key": (
        "Wanted is the straight line between both ends, held by minimum and maximum frequency. "
        "The limit is what the reference, as it is entered, cannot hold better (GUM, k = 2); a "
        "deviation below it is no fault. Readings at which the drive held its frequency make no "
        "figure of the line."
    ),
    "calibration_chart": "Deviation over the travel of the reference",
    "calibration_holds": "✓ Every reading is within the limit",
    "calibration_fails": "✗ Out of the limit",
    "calibration_open": "◇ Not judged, as no limit is known",
    "ends_wanted": "Wanted at 0 and 100 %",
    "ends_set": "Set at the drive then",
    "ends_assumed": "as the settings stand now",
    "point_way": "Turned",
    "point_wanted": "Wanted",
    "point_read": "Read",
    "point_deviation": "Deviation",
    "point_speed": "Speed read",
    "point_speed_computed": "By frequency",
    "point_speed_off": "Off by",
    "to_correct": "To set so that zero and span come right",
    "to_correct_within": "Within the limit, so nothing has to be set; the ends that fit best",
    "end": "End",
    "end_bottom": "Bottom",
    "end_top": "Top",
    "setting_now": "Now",
    "setting_new": "To set",
    "stays": "stays",
    "cannot_tell": "cannot be told",
    "blank_found_hz": "As found, Hz",
    "blank_found_speed": "As found, speed",
    "blank_left_hz": "As left, Hz",
    "blank_left_speed": "As left, speed",
}
"""Words of the sheets, by key, in English."""
