"""The empty spreadsheet to fill in, with a page that explains every column and an example row."""

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

from core.exchange.cells import EXAMPLE, write_value
from core.exchange.layout import SHEETS, Column, Sheet, sheet_of
from core.exchange.workbook import Page, page_headings, write_pages
from core.model import RECORDS, FieldSpec
from core.units import KINDS, System, show, unit_of

_INTRODUCTION = (
    "How to fill in this spreadsheet",
    "",
    "Each sheet holds one kind of thing, one row for each. Fill in what you have; sheets, columns "
    "and rows that you leave out are left as they are in the line file.",
    "A row with a name, tag or code that the line file has already changes that record; any other "
    "row adds one. A blank cell changes nothing. Nothing is ever removed.",
    f"A row whose first cell begins with '{EXAMPLE}' only shows how to fill one in and is passed "
    "over. Type over it or leave it.",
    "Quantities take any usual unit: 0.75 kW, 3/4 hp, 1 1/2 in. A bare number is in the unit that "
    "stands in brackets in the heading. Decimal point and decimal comma are both taken.",
    "Keep the cells formatted as text, so that the spreadsheet does not make a date of 1/2.",
    "A cell that holds only an apostrophe (') empties what stands in the line file. An apostrophe "
    "before a text that begins with =, +, - or @ keeps it from running as a formula; it is taken "
    "off by the import.",
    "Without rows in the sheet Flow, each new station is fed by the one in the row before it.",
    "Photographs do not travel in a spreadsheet: neither are they written to it, nor does bringing "
    "it in change those of the line file.",
    "Numbers here are for the record. A licensed person decides what is safe to build and to run, "
    "under the local code.",
)

# For each main sheet one row: by table and field the stored word of a choice, or a text (metric
# and US where they differ). Invented, and coherent with one another.
_Example = str | tuple[str, str]
EXAMPLES: Mapping[str, Mapping[str, _Example]] = {
    "People": {"person.name": "A. Electrician", "person.role": "Start-up"},
    "Instruments": {
        "instrument.name": "Insulation tester",
        "instrument.serial": "0012345",
        "instrument.calibration_due": "2027-03-31",
    },
    "Supplies": {
        "supply.name": "shed service",
        "supply.kind": ("3ph_400y_230", "1ph_240"),
        "supply.frequency_hz": ("50 Hz", "60 Hz"),
        "supply.service_rating_a": ("63 A", "100 A"),
        "supply.feeder_length_m": ("40 m", "130 ft"),
        "supply.feeder_conductor_m2": ("16 mm²", "3 AWG"),
    },
    "Enclosures": {
        "enclosure.name": "PANEL1",
        "enclosure.height_m": ("800 mm", "31 1/2 in"),
        "enclosure.width_m": ("600 mm", "24 in"),
        "enclosure.depth_m": ("250 mm", "10 in"),
        "enclosure.material": "painted_steel",
        "enclosure.ambient_max_k": ("40 °C", "104 °F"),
    },
    "Buses": {"bus.name": "BUS1", "bus.protocol": "modbus_rtu", "bus.speed_bd": "19200"},
    "Drive types": {
        "drive_type.name": "small drive",
        "drive_type.input_phases": "1",
        "drive_type.rated_power_w": ("0.75 kW", "1 hp"),
        "drive_type.output_voltage_v": "230 V",
        "drive_type.output_current_a": "4.2 A",
        "drive_type.overload": "150 %",
        "drive_type.overload_time_s": "60 s",
        "drive_type.discharge_wait_s": "5 min",
    },
    "Terminals": {
        "drive_type.name": "small drive",
        "terminal.designation": "X1:4",
        "terminal.role": "digital_in",
        "terminal.meaning": "Start forward",
    },
    "Reference inputs": {
        "drive_type.name": "small drive",
        "reference_input.name": "analogue 1",
        "reference_input.signal": "voltage",
        "reference_input.low_v": "0 V",
        "reference_input.high_v": "10 V",
        "reference_input.input_resistance_ohm": "100 kΩ",
    },
    "Listed settings": {
        "drive_type.name": "small drive",
        "listed_setting.code": "S1",
        "listed_setting.meaning": "Highest output frequency",
        "listed_setting.role": "frequency_max",
        "listed_setting.unit": "Hz",
        "listed_setting.minimum": "0",
        "listed_setting.maximum": "120",
        "listed_setting.factory": ("50", "60"),
    },
    "Stations": {
        "station.tag": "ST01",
        "station.name": "Washer brushes",
        "station.kind": "brush_bed",
        "station.area": "washdown",
        "station.wanted": "shaft",
        "station.wanted_rad_s": "96 rpm",
        "motor.power_w": ("0.75 kW", "3/4 hp"),
        "motor.voltage_low_v": "230 V",
        "motor.current_low_a": ("3.2 A", "2.8 A"),
        "motor.connected_for": "low",
        "motor.frequency_hz": ("50 Hz", "60 Hz"),
        "motor.speed_rad_s": ("1410 rpm", "1725 rpm"),
        "motor.efficiency": "78 %",
        "motor.power_factor": "0.76",
        "drive.drive_type_id": "small drive",
        "drive.enclosure_id": "PANEL1",
        "drive.supply_id": "shed service",
        "speed_reference.source": "potentiometer",
        "speed_reference.input_name": "analogue 1",
        "speed_reference.pot_ohm": "10 kΩ",
        "controls.start_mode": "two_wire",
        "drivetrain.gear_ratio": "15",
        "drivetrain.surface": "drum",
        "drivetrain.drum_diameter_m": ("125 mm", "5 in"),
    },
    "More motors": {
        "station.tag": "ST01",
        "motor.tag": "M2",
        "motor.power_w": ("0.37 kW", "1/2 hp"),
    },
    "Settings": {
        "station.tag": "ST01",
        "setting.code": "S1",
        "setting.shown": ("50", "60"),
        "setting.reason": "Rated frequency of the motor",
    },
    "Digital inputs": {
        "station.tag": "ST01",
        "digital_input.terminal": "X1:4",
        "digital_input.function": "forward",
        "digital_input.from_device": "S1 selector switch",
    },
    "Outputs": {
        "station.tag": "ST01",
        "output.kind": "relay",
        "output.function": "fault",
        "output.terminal": "X2:1",
    },
    "Presets": {"station.tag": "ST01", "preset.name": "slow", "preset.frequency_hz": "20 Hz"},
    "Cables": {
        "station.tag": "ST01",
        "cable.run": "motor",
        "cable.conductor_m2": ("1.5 mm²", "14 AWG"),
        "cable.length_m": ("20 m", "65 ft"),
        "cable.screen": "both",
    },
    "Recipes": {
        "recipe.name": "plums",
        "recipe.fruit": "Plums",
        "recipe.fruit_mass_kg": ("65 g", "0.14 lb"),
        "recipe.fruit_diameter_m": ("50 mm", "2 in"),
        "recipe.diameter_spread_m": ("4 mm", "0.16 in"),
        "recipe.throughput": "bins",
        "recipe.bins_1_s": "3 bins/h",
        "recipe.bin_mass_kg": ("350 kg", "770 lb"),
        "recipe.culled": "6 %",
    },
    "Own speeds": {
        "recipe.name": "plums",
        "recipe_speed.station_id": "ST01",
        "recipe_speed.wanted": "shaft",
        "recipe_speed.wanted_rad_s": "90 rpm",
    },
    "Flow": {"flow.from_station_id": "ST01", "flow.to_station_id": "ST02"},
    "Pairs": {
        "pair.name": "odd and even brushes",
        "pair.first_station_id": "ST01",
        "pair.second_station_id": "ST02",
        "pair.wanted_differential": "16 %",
        "pair.tolerance": "4 %",
    },
    "Accepted findings": {
        "acceptance.mark": "0123456789abcdef",
        "acceptance.person": "name",
        "acceptance.reason": "why it may stay",
    },
    "Own checks": {
        "own_check.name": "Guard switch stops the belt",
        "own_check.stage": "coupled",
        "own_check.form": "yes_no",
    },
    "Checks": {
        "check_result.name": "own:1",
        "check_result.station_id": "ST01",
        "check_result.answer": "yes",
        "check_result.done_at": "2026-11-25 14:30",
    },
    "Calibration": {
        "calibration_point.station_id": "ST01",
        "calibration_point.state": "found",
        "calibration_point.direction": "up",
        "calibration_point.share": "50 %",
        "calibration_point.frequency_hz": "30 Hz",
    },
}


def write_template(path: Path, system: System) -> tuple[Path, ...]:
    """Write the empty spreadsheet to fill in.

    Parameters
    ----------
    path : Path
        An ``.xlsx`` file, or a folder for CSV files; both are made, or replaced where present
    system : "metric" or "us"
        Unit system of the headings and examples

    Returns
    -------
    tuple of Path
        The files that were written

    Raises
    ------
    LinebookError
        The disk did not take a file.
    """
    pages = [
        Page(sheet, page_headings(sheet, system), tuple(_rows(sheet, system))) for sheet in SHEETS
    ]
    return write_pages(path, pages, readme_lines(system))


def readme_lines(system: System) -> tuple[str, ...]:
    """The lines of the page that explains the sheets."""
    lines = list(_INTRODUCTION)
    for sheet in SHEETS:
        lines += ["", sheet.title]
        lines += [f"    {column.label}: {explained(column, system)}" for column in sheet.columns]
    return tuple(lines)


def explained(column: Column, system: System) -> str:
    """What may stand in a column, in plain words."""
    field = column.field
    if column.owner:
        title = sheet_of(column.table).title
        return f"the {field.label.lower()} of one in the sheet {title}, or of one in the line file."
    parts = [_EXPLAINED[field.sort](field, system), field.hint.rstrip("."), _where(column)]
    return ". ".join(part[0].upper() + part[1:] for part in parts if part) + "."


def _rows(sheet: Sheet, system: System) -> Iterator[tuple[str, ...]]:
    if sheet.down:
        for column in sheet.columns:
            value = system_word(column.field, system)
            yield column.heading(system), value, explained(column, system)
    else:
        yield example_row(sheet, system)


def system_word(field: FieldSpec, system: System) -> str:
    """The one value that a fresh template has: its own units."""
    return field.choices[system] if field.name == "unit_system" else ""


def example_row(sheet: Sheet, system: System) -> tuple[str, ...]:
    """The example row of a sheet, marked as one in its first cell."""
    example = EXAMPLES[sheet.title]
    cells = [_example_cell(column, example, system) for column in sheet.columns]
    return (f"{EXAMPLE} {cells[0]}", *cells[1:])


def _example_cell(column: Column, example: Mapping[str, _Example], system: System) -> str:
    text = example.get(f"{column.table}.{column.field.name}", "")
    text = text if isinstance(text, str) else text[0 if system == "metric" else 1]
    is_word = text and column.field.sort == "choice"
    return write_value(column.field, text, system) if is_word else text


def _where(column: Column) -> str:
    """For which values of other columns a column has a meaning."""
    parts = []
    for name, allowed in column.field.only.items():
        table, _, plain = name.rpartition(".")
        other = RECORDS[table or column.table].field(plain)
        words = [shown for key, shown in other.choices.items() if key in allowed]
        parts.append(f"{other.label} is {' or '.join(words)}")
    return f"only where {' and '.join(parts)}" if parts else ""


def _quantity(field: FieldSpec, system: System) -> str:
    unit = unit_of(field.kind, system)
    bare = f"; a bare number is in {unit}" if unit else ""
    return KINDS[field.kind].what + bare + _bounds(field, system)


def _bounds(field: FieldSpec, system: System) -> str:
    if field.maximum is None:
        return ""
    most = show(field.maximum, field.kind, system) if field.kind else f"{field.maximum:g}"
    return f"; {most} at the most"


_EXPLAINED: Mapping[str, Callable[[FieldSpec, System], str]] = {
    "text": lambda _field, _system: "a text",
    "long_text": lambda _field, _system: "a text of any number of lines",
    "quantity": _quantity,
    "whole": lambda field, system: "a whole number" + _bounds(field, system),
    "choice": lambda field, _system: "one of: " + "; ".join(field.choices.values()),
    "flag": lambda _field, _system: "yes or no",
    "date": lambda _field, _system: "a date such as 2026-11-25",
    "ref": lambda field, _system: f"a name from the sheet {sheet_of(field.target).title}",
}
