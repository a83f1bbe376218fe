"""The kinds of quantity on a line, and the unit each is shown in."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

System = Literal["metric", "us"]
"""The unit system of a line: what is shown, and what a bare number means."""


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of quantity.

    Attributes: ``si_suffix`` ends the names of fields that hold it; ``metric_unit`` and ``us_unit``
    are ids of the unit table (empty where sizes are names: a gauge is no measure); ``what`` says in
    an error what to type; ``digits`` are the significant digits of a converted or computed value; a
    ``whole`` number has no fraction; a bare number up to ``bare_above`` is refused since it may
    be meant in per cent or as a plain share. A value is shown in one of the ``larger`` units (ids,
    ascending, for both systems) where the same number is shorter there: 10 kΩ, 5 min.
    """

    name: str
    si_suffix: str
    dimension: str
    metric_unit: str
    us_unit: str
    what: str
    digits: int = 4
    whole: bool = False
    bare_above: float = 0.0
    larger: tuple[str, ...] = ()

    def unit_id(self, system: System) -> str:
        """The id of the unit this kind is shown in, and of a bare number."""
        return self.metric_unit if system == "metric" else self.us_unit


_ALL = (
    Kind("power", "w", "power", "kW", "hp", "a power such as 0.75 kW or 3/4 hp"),
    Kind("loss_power", "w", "power", "W", "W", "a power such as 45 W"),
    Kind("voltage", "v", "voltage", "V", "V", "a voltage such as 230 V"),
    Kind("current", "a", "current", "A", "A", "a current such as 3.6 A"),
    Kind("signal_current", "a", "current", "mA", "mA", "a current such as 12 mA"),
    Kind("frequency", "hz", "frequency", "Hz", "Hz", "a frequency such as 50 Hz"),
    Kind("rotation", "rad_s", "rotation", "rpm", "rpm", "a rotation such as 1740 rpm"),
    Kind("surface_speed", "m_s", "speed", "m_s", "ft_min", "a speed such as 0.5 m/s or 100 ft/min"),
    Kind("length", "m", "length", "m", "ft", "a length such as 25 m or 85 ft"),
    Kind("size", "m", "length", "mm", "in", "a length such as 100 mm or 1 1/2 in"),
    Kind("mass", "kg", "mass", "kg", "lb", "a mass such as 350 kg or 850 lb"),
    Kind("fruit_mass", "kg", "mass", "g", "lb", "a mass such as 110 g or 0.24 lb"),
    Kind(
        "mass_on_length",
        "kg_m",
        "linear_density",
        "kg_m",
        "lb_per_ft",
        "a mass on a length such as 12 kg/m or 8 lb/ft",
    ),
    Kind(
        "bulk_density",
        "kg_m3",
        "density",
        "kg_m3",
        "lb_ft3",
        "a bulk density such as 600 kg/m³ or 37 lb/ft³",
    ),
    Kind("mass_flow", "kg_s", "mass_flow", "t_h", "lb_h", "a mass flow such as 2 t/h or 5100 lb/h"),
    Kind("bin_rate", "1_s", "bin_rate", "bins_h", "bins_h", "a number of bins such as 6 bins/h"),
    Kind("count_rate", "1_s", "count_rate", "per_s", "per_s", "a rate such as 5.9 /s or 350 /min"),
    Kind("torque", "n_m", "torque", "N_m", "lb_in", "a torque such as 2.5 N·m or 22 lb·in"),
    Kind("force", "n", "force", "N", "lbf", "a force such as 200 N or 45 lbf"),
    Kind(
        "inertia",
        "kg_m2",
        "inertia",
        "kg_m2",
        "lb_ft2",
        "an inertia such as 0.02 kg·m² or 0.5 lb·ft²",
    ),
    Kind("conductor", "m2", "conductor_size", "mm2", "", "a size such as 2.5 mm² or 12 AWG"),
    Kind(
        "resistance",
        "ohm",
        "resistance",
        "ohm",
        "ohm",
        "a resistance such as 250 Ω or 10 kΩ",
        larger=("kohm", "Mohm"),
    ),
    Kind("insulation", "ohm", "resistance", "Mohm", "Mohm", "a resistance such as 500 MΩ"),
    Kind("capacitance", "f", "capacitance", "uF", "uF", "a capacitance such as 470 µF"),
    Kind("time", "s", "time", "s", "s", "a time such as 5 s or 200 ms"),
    Kind("wait", "s", "time", "s", "s", "a time such as 5 min or 60 s", larger=("min",)),
    Kind(
        "temperature", "k", "temperature", "degC", "degF", "a temperature such as 40 °C or 104 °F"
    ),
    Kind(
        "temperature_step",
        "k",
        "temperature_step",
        "K_step",
        "degF_step",
        "a temperature difference such as 10 K or 18 °F",
    ),
    Kind("ratio", "1", "ratio", "percent", "percent", "a share such as 82 %", bare_above=1.0),
    Kind("factor", "1", "ratio", "one", "one", "a number such as 0.82 or 15"),
    Kind("angle", "rad", "angle", "deg", "deg", "an angle such as 90°"),
    Kind("air_flow", "m3_s", "volume_flow", "m3_h", "cfm", "an air flow such as 80 m³/h or 50 CFM"),
    Kind(
        "water_flow",
        "m3_s",
        "volume_flow",
        "m3_h",
        "gpm",
        "a water flow such as 40 m³/h or 180 gpm",
    ),
    Kind("pressure", "pa", "pressure", "kPa", "psi", "a pressure such as 50 kPa or 7 psi"),
    Kind("area", "m2", "area", "m2", "ft2", "an area such as 1.2 m² or 13 ft²"),
    Kind("volume", "m3", "volume", "L", "gal", "a volume such as 800 L or 210 gal"),
    Kind("energy", "j", "energy", "J", "J", "an energy such as 150 J"),
    Kind("count", "1", "count", "each", "each", "a whole number such as 12", whole=True),
)

KINDS: Mapping[str, Kind] = MappingProxyType({kind.name: kind for kind in _ALL})
"""Every kind by its name."""
