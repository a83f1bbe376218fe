"""Small lines to read back, with lists of settings that stand in no manual."""

from core.model import Bus, Drive, DriveType, Line, ListedSetting, Setting, Station

LISTED = (
    ListedSetting(
        1, "top", unit="Hz", minimum="0", maximum="400", factory="50.0", register=100,
        register_scale=0.1,
    ),
    ListedSetting(
        2, "slow-up", unit="s", minimum="0.1", maximum="600", factory="10.00", register=101,
        register_scale=0.01,
    ),
    ListedSetting(
        3, "source", options="0 = knob; 1 = wire; 2 = bus", factory="0", register=102,
        register_first_bit=4, register_bits=2,
    ),
    ListedSetting(
        4, "turns", options="0 = both; 1 = forward", factory="0", register=102,
        register_first_bit=0,
    ),
    ListedSetting(
        5, "trim", unit="%", minimum="-100", maximum="100", factory="0.0", register=103,
        register_scale=0.1, register_form="s16",
    ),
    ListedSetting(
        6, "hours", unit="h", factory="0", register=110, register_form="u32",
        register_words="low_first",
    ),
    ListedSetting(7, "gain", minimum="-10", maximum="10", factory="1", register=300,
                  register_form="f32"),
    ListedSetting(
        8, "seen", unit="A", factory="0.0", register=5, register_scale=0.1,
        register_table="input",
    ),
    ListedSetting(9, "by hand", unit="Hz", factory="5"),
)  # fmt: skip
ON_BUS = LISTED[:-1]
KIND = DriveType(1, "small drive", listed_settings=LISTED)

# A value of each setting on the bus that the list allows, other than its factory value.
CHOICES = {
    "top": ("0.0", "60.0", "87.5", "400.0"),
    "slow-up": ("0.10", "2.50", "600.00"),
    "source": ("1", "2"),
    "turns": ("1",),
    "trim": ("-100.0", "-0.1", "33.3"),
    "hours": ("1", "70000", "4294967295"),
    "gain": ("0.1", "-9.75", "3.14159"),
    "seen": ("1.2", "12.0"),
}


def station(number: int, *entered: tuple[str, str], **drive: object) -> Station:
    """A station on bus 1 whose address is its number."""
    settings = tuple(
        Setting(place, code, shown) for place, (code, shown) in enumerate(entered, 100 * number)
    )
    fields = {"drive_type_id": 1, "bus_id": 1, "bus_address": number, "settings": settings}
    return Station(number, f"S{number:02d}", drive=Drive(number, **(fields | drive)))


def line_of(*stations: Station, protocol: str = "modbus_rtu", **fields: object) -> Line:
    """A line with one bus and one drive type."""
    bus = Bus(1, "field bus", protocol, speed_bd=115200, parity="even")
    return Line(**{"buses": (bus,), "drive_types": (KIND,), "stations": stations} | fields)


def many(count: int, protocol: str = "modbus_rtu") -> Line:
    """A line of so many stations."""
    return line_of(*(station(number) for number in range(1, count + 1)), protocol=protocol)
