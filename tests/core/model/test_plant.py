"""Finding what a drive type's lists hold."""

from core.model import DriveType, ListedSetting, ReferenceInput, Terminal

DRIVE_TYPE = DriveType(
    terminals=(
        Terminal(designation="7", role="digital_in"),
        Terminal(designation="8", role="digital_in"),
        Terminal(designation="R1", role="relay_open"),
    ),
    reference_inputs=(ReferenceInput(name="Volts"), ReferenceInput(name="Milliamps")),
    listed_settings=(
        ListedSetting(code="F-01", role="frequency_max"),
        ListedSetting(code="F-02", role="none"),
        ListedSetting(code="F-03", role="preset_frequency"),
        ListedSetting(code="F-04", role="preset_frequency"),
    ),
)


def test_setting_is_found_by_its_code_and_its_meaning() -> None:
    assert DRIVE_TYPE.listed("F-02") is DRIVE_TYPE.listed_settings[1]
    assert DRIVE_TYPE.listed("F-99") is None
    assert DRIVE_TYPE.by_role("frequency_max") is DRIVE_TYPE.listed_settings[0]
    assert DRIVE_TYPE.by_role("preset_frequency") is DRIVE_TYPE.listed_settings[2]
    assert DRIVE_TYPE.by_role("ramp_up") is None


def test_input_is_found_by_its_name() -> None:
    assert DRIVE_TYPE.reference_input("Milliamps") is DRIVE_TYPE.reference_inputs[1]
    assert DRIVE_TYPE.reference_input("") is None


def test_first_terminal_of_a_role_is_found() -> None:
    assert DRIVE_TYPE.terminal("digital_in") is DRIVE_TYPE.terminals[0]
    assert DRIVE_TYPE.terminal("brake") is None
