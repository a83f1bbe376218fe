"""The speed reference of one station, from its source to hertz and back.

Source → wire → drive input → frequency. Every link is told, so that a reader sees which entry
decides what; a link that is not known is lacking, never guessed.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

from core.calc import potentiometer, reference, signals
from core.errors import RangeError
from core.line.figures import Workbench
from core.line.settings import InForce, Span, in_force, span_from_words
from core.model import DriveType, ReferenceInput, Station
from core.model.keypad import options_of

WIRED = ("potentiometer", "voltage", "current", "dac")
HERTZ = ("keypad", "preset", "bus")


@dataclass(frozen=True, slots=True)
class Limits:
    """Frequencies between which the drive runs, and those at the ends of the reference."""

    bottom_hz: float
    top_hz: float
    minimum_hz: float
    maximum_hz: float
    assumed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Chain:
    """A reference that is known from end to end.

    ``source`` is what the source gives, ``input`` what the drive's input expects. ``supply_v``,
    ``track_ohm`` and ``input_ohm`` matter for a potentiometer; ``source_ohm`` for a voltage.
    """

    kind: str
    source: Span
    input: Span
    limits: Limits
    supply_v: float = 0.0
    track_ohm: float = 0.0
    input_ohm: float | None = None
    source_ohm: float = 0.0
    dac_bits: int | None = None
    taper: str = "linear"

    def signal(self, fraction: float) -> float:
        """What arrives at the drive's input at this fraction of the source's travel."""
        if self.kind == "potentiometer":
            track = potentiometer.track_at_knob(fraction, self.taper)
            return potentiometer.output_v(track, self.supply_v, self.track_ohm, self.load_ohm)
        given = reference.signal_at_span(fraction, self.source.low, self.source.high)
        return self._divided(given)

    def frequency_hz(self, signal: float) -> float:
        """Frequency that the drive makes of a signal at its input."""
        share = reference.input_ratio(signal, self.input.low, self.input.high)
        asked = reference.frequency_at_ratio_hz(share, self.limits.bottom_hz, self.limits.top_hz)
        return reference.limited_frequency_hz(asked, self.limits.minimum_hz, self.limits.maximum_hz)

    def signal_for(self, frequency_hz: float) -> float:
        """Signal at the input that makes this frequency; RangeError where none does."""
        if not self.limits.minimum_hz <= frequency_hz <= self.limits.maximum_hz:
            raise RangeError(
                "No signal gives this frequency.",
                f"{frequency_hz:.4g} Hz lies outside of the drive's limits "
                f"{self.limits.minimum_hz:g} to {self.limits.maximum_hz:g} Hz.",
                "Change the limits or the drivetrain.",
            )
        return reference.signal_for_frequency(
            frequency_hz,
            self.input.low,
            self.input.high,
            self.limits.bottom_hz,
            self.limits.top_hz,
        )

    def fraction_for(self, signal: float) -> float:
        """Fraction of the source's travel that gives a signal at the input."""
        if self.kind == "potentiometer":
            track = potentiometer.track_for_voltage(
                signal, self.supply_v, self.track_ohm, self.load_ohm
            )
            return potentiometer.knob_for_track(track, self.taper)
        given = self._undivided(signal)
        return reference.span_fraction(given, self.source.low, self.source.high)

    def count(self, fraction: float) -> int | None:
        """DAC count at this fraction; None where there is no DAC."""
        if self.dac_bits is None:
            return None
        volts = reference.signal_at_span(fraction, self.source.low, self.source.high)
        return signals.dac_count(volts, self.dac_bits, self.source.low, self.source.high)

    @property
    def told(self) -> dict[str, float]:
        """The entries the chain rests on, by names that carry their units."""
        end = "a" if self.input.signal == "current" else "v"
        found = {
            f"drive_input_low_signal_{end}": self.input.low,
            f"drive_input_high_signal_{end}": self.input.high,
            "frequency_at_bottom_hz": self.limits.bottom_hz,
            "frequency_at_top_hz": self.limits.top_hz,
            "minimum_frequency_hz": self.limits.minimum_hz,
            "maximum_frequency_hz": self.limits.maximum_hz,
        }
        if self.kind == "potentiometer":
            found |= {"potentiometer_ohm": self.track_ohm, "its_supply_v": self.supply_v}
        else:
            found |= {
                f"source_low_signal_{end}": self.source.low,
                f"source_high_signal_{end}": self.source.high,
            }
        if self.input_ohm:
            found["drive_input_ohm"] = self.input_ohm
        return found

    @property
    def load_ohm(self) -> float:
        """Resistance of the drive's input; endless where it was not entered."""
        return self.input_ohm or math.inf

    def _divided(self, given: float) -> float:
        if self.source.signal == "voltage" and self.input_ohm and self.source_ohm:
            return signals.divided_voltage_v(given, self.source_ohm, self.input_ohm)
        return given

    def _undivided(self, signal: float) -> float:
        if self.source.signal == "voltage" and self.input_ohm and self.source_ohm:
            return signals.source_voltage_v(signal, self.source_ohm, self.input_ohm)
        return signal


def limits_of(bench: Workbench, station: Station, drive_type: DriveType | None) -> Limits | None:
    """The frequencies that bound a station; what is lacking goes to the bench."""
    wanted = {
        "top": "hz_at_reference_high",
        "maximum": "frequency_max",
        "bottom": "hz_at_reference_low",
        "minimum": "frequency_min",
    }
    found = {name: in_force(station, drive_type, role) for name, role in wanted.items()}
    # A drive without a setting of its own for the top of the reference runs to its maximum.
    top = found["top"] or found["maximum"]
    maximum = found["maximum"] or found["top"]
    if top is None or maximum is None or top.value is None or maximum.value is None:
        _lack_setting(bench, station, drive_type, "Maximum frequency")
        return None
    used = [entry for entry in (top, maximum, found["bottom"], found["minimum"]) if entry]
    assumed = tuple(dict.fromkeys(entry.assumed for entry in used if not entry.entered))
    bottom = _value_or_zero(found["bottom"])
    minimum = min(_value_or_zero(found["minimum"]), maximum.value)
    return Limits(bottom, top.value, minimum, maximum.value, assumed)


def _value_or_zero(entry: InForce | None) -> float:
    return entry.value if entry is not None and entry.value is not None else 0.0


def _lack_setting(
    bench: Workbench, station: Station, drive_type: DriveType | None, label: str
) -> None:
    if drive_type is None:
        bench.lack("drive", station.drive.id, "drive_type_id", "Drive: choose its type.")
    else:
        bench.lack("setting", station.drive.id, "", f"Drive settings: {label.lower()}.")


def chain_of(
    bench: Workbench, station: Station, drive_type: DriveType | None, limits: Limits | None
) -> Chain | None:
    """The reference chain of a station with a wired source; what is lacking goes to the bench."""
    held = station.reference
    if held.source not in WIRED:
        return None
    entry = _input_of(bench, station, drive_type)
    expected = expected_span(station, drive_type, entry) if entry else None
    source = _SPANS[held.source](bench, station, drive_type)
    if entry and expected is None:
        bench.lack(
            "drive",
            station.drive.id,
            "drive_type_id",
            f"Drive type: range of reference input {entry.name}.",
        )
    if entry is None or expected is None or source is None or limits is None:
        return None
    if expected.signal != source.signal:
        bench.lack(
            "speed_reference",
            held.id,
            "input_name",
            f"Speed reference: the source gives a {source.signal}, "
            f"input {entry.name} is set to a {expected.signal}.",
        )
        return None
    return Chain(
        kind=held.source,
        source=source,
        input=expected,
        limits=limits,
        supply_v=source.high if held.source == "potentiometer" else 0.0,
        track_ohm=held.pot_ohm or 0.0,
        input_ohm=entry.input_resistance_ohm,
        source_ohm=held.source_ohm or 0.0,
        dac_bits=held.dac_bits if held.source == "dac" else None,
        taper=held.pot_taper or "linear",
    )


def _input_of(
    bench: Workbench, station: Station, drive_type: DriveType | None
) -> ReferenceInput | None:
    if drive_type is None:
        bench.lack("drive", station.drive.id, "drive_type_id", "Drive: choose its type.")
        return None
    entry = drive_type.reference_input(station.reference.input_name)
    if entry is None:
        bench.lack(
            "speed_reference",
            station.reference.id,
            "input_name",
            "Speed reference: which reference input it is wired to.",
        )
    return entry


def expected_span(
    station: Station, drive_type: DriveType | None, entry: ReferenceInput
) -> Span | None:
    """What the input expects: its range setting where there is one, else its own range."""
    setting = in_force(station, drive_type, "reference_range")
    if setting is not None and (span := span_from_words(setting.meaning)):
        # A setting without any choice of this input's signal is about another input.
        words = options_of(setting.listed).values()
        if span.signal == entry.signal or any(_signal_of(each) == entry.signal for each in words):
            return span
    low, high = (entry.low_v, entry.high_v) if entry.signal == "voltage" else _amps(entry)
    return None if high is None else Span(entry.signal, low or 0.0, high)


def _signal_of(words: str) -> str:
    span = span_from_words(words)
    return span.signal if span else ""


def _amps(entry: ReferenceInput) -> tuple[float | None, float | None]:
    return entry.low_a, entry.high_a


def _potentiometer_span(
    bench: Workbench, station: Station, drive_type: DriveType | None
) -> Span | None:
    supply_v = drive_type.reference_supply_v if drive_type else None
    if drive_type is not None and supply_v is None:
        bench.lack(
            "drive",
            station.drive.id,
            "drive_type_id",
            f"Drive type {drive_type.name}: potentiometer supply.",
        )
    if station.reference.pot_ohm is None:
        _lack_reference(bench, station, "pot_ohm", "resistance of the potentiometer")
        return None
    return None if supply_v is None else Span("voltage", 0.0, supply_v)


def _voltage_span(bench: Workbench, station: Station, _drive_type: DriveType | None) -> Span | None:
    held = station.reference
    if held.high_v is None:
        _lack_reference(bench, station, "high_v", "highest voltage of the signal")
    if held.source == "dac" and held.dac_bits is None:
        _lack_reference(bench, station, "dac_bits", "bits of the DAC")
        return None
    return None if held.high_v is None else Span("voltage", held.low_v or 0.0, held.high_v)


def _current_span(bench: Workbench, station: Station, _drive_type: DriveType | None) -> Span | None:
    held = station.reference
    for name, words in (("low_a", "lowest"), ("high_a", "highest")):
        if getattr(held, name) is None:
            _lack_reference(bench, station, name, f"{words} current of the signal")
    if held.low_a is None or held.high_a is None:
        return None
    return Span("current", held.low_a, held.high_a)


def _lack_reference(bench: Workbench, station: Station, name: str, words: str) -> None:
    bench.lack("speed_reference", station.reference.id, name, f"Speed reference: {words}.")


_SpanReader = Callable[[Workbench, Station, DriveType | None], Span | None]
_SPANS: dict[str, _SpanReader] = {
    "potentiometer": _potentiometer_span,
    "voltage": _voltage_span,
    "dac": _voltage_span,
    "current": _current_span,
}
