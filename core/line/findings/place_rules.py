"""Findings about the place: water against protection class, heat against what a drive stands."""

import re
from collections.abc import Iterator

from core.line.findings.base import Place
from core.line.findings.view import Found, LineFound, LineView, View, line_rule, station_rule

_WATER_DIGIT = {"washdown": 5, "damp": 4}
"""Second digit of the IP code that an area asks for; common practice."""
_NEMA_WATER = {
    "1": 0,
    "2": 1,
    "3": 4,
    "3R": 4,
    "4": 6,
    "4X": 6,
    "5": 2,
    "6": 7,
    "6P": 8,
    "12": 4,
    "13": 4,
}
"""NEMA 250 types against the IP code's water digit, after its annex A; from memory."""
_WORDS_WATER = {"ODP": 2, "TEFC": 4, "TENV": 4}
"""NEMA MG 1 1.25 and 1.26: drip-proof IP22, totally enclosed IP54; from memory."""


@station_rule(
    key="protection-class",
    level="fault",
    says="{what} has protection class {protection}; a {area} area asks for IPX{digit} or better.",
    follows="Water gets in, then earth faults and corrosion.",
    mend="Use a better class, a cover, or another place.",
    source="IEC 60529; NEMA 250 and MG 1 (from memory); digit for the area: common practice",
)
def protection_class(view: View) -> Iterator[Found]:
    """Motor, or drive without an enclosure, against the area's water."""
    wanted = _WATER_DIGIT.get(view.station.area or "")
    if wanted is None:
        return
    for plate in view.motors:
        place = Place("motor", plate.id, "protection")
        yield from _too_open(view, "The motor", plate.protection, wanted, place)
    # A drive in an enclosure stands where the enclosure stands: see enclosure_protection.
    if view.enclosure is None and view.drive_type is not None:
        place = view.at_drive("enclosure_id")
        yield from _too_open(view, "The drive", view.drive_type.protection, wanted, place)


def _too_open(view: View, what: str, protection: str, wanted: int, place: Place) -> Iterator[Found]:
    digit = water_digit(protection)
    if digit is not None and digit < wanted:
        yield (
            place,
            {
                "what": what,
                "protection": protection,
                "area": view.station.area or "",
                "digit": str(wanted),
            },
        )


def water_digit(protection: str) -> int | None:
    """The water digit of a protection class in words; None where none is named.

    ``IP55`` and ``TEFC, IP55`` give 5; ``NEMA 4X`` gives 6; ``ODP`` by itself gives 2.
    """
    if found := re.search(r"\bIP\s?[0-6X]([0-9])", protection, re.IGNORECASE):
        return int(found.group(1))
    if found := re.search(r"\b(?:NEMA|TYPE)\s*([0-9]{1,2}[A-Z]?)\b", protection, re.IGNORECASE):
        return _NEMA_WATER.get(found.group(1).upper())
    words = re.findall(r"[A-Z]+", protection.upper())
    return next((_WORDS_WATER[word] for word in words if word in _WORDS_WATER), None)


@line_rule(
    key="enclosure-protection",
    level="fault",
    says="Enclosure {enclosure} has protection class {protection}; a {area} area asks for "
    "IPX{digit} or better.",
    follows="Water gets in onto live parts, then earth faults and corrosion.",
    mend="Use an enclosure of a better class, or place it where it stays dry.",
    source="IEC 60529; NEMA 250 (from memory); digit for the area: common practice",
)
def enclosure_protection(whole: LineView) -> Iterator[LineFound]:
    """Enclosure against the water of the area that it stands in."""
    for held in whole.line.enclosures:
        wanted, digit = _WATER_DIGIT.get(held.area or ""), water_digit(held.protection)
        if wanted is not None and digit is not None and digit < wanted:
            yield (
                None,
                Place("enclosure", held.id, "protection"),
                {
                    "enclosure": held.name,
                    "protection": held.protection,
                    "area": held.area or "",
                    "digit": str(wanted),
                },
            )


@line_rule(
    key="enclosure-material",
    level="advice",
    says="Enclosure {enclosure} is of painted steel and stands in a washdown area.",
    follows="Water and detergent get under the paint at every scratch and edge; rust and flakes of "
    "paint have no place near food.",
    mend="Use stainless steel or plastic, or place it outside of the washdown area.",
    source="common practice in food plants",
)
def enclosure_material(whole: LineView) -> Iterator[LineFound]:
    """Painted steel where it is washed down."""
    for held in whole.line.enclosures:
        if held.area == "washdown" and held.material == "painted_steel":
            yield None, Place("enclosure", held.id, "material"), {"enclosure": held.name}


@line_rule(
    key="drive-too-warm",
    level="fault",
    says="Enclosure {enclosure} {reaches} {inside_k} inside; drive type {drive_type} stands "
    "{drive_k}.",
    follows="The drive trips on heat or has to be loaded less, and its capacitors age fast.",
    mend="Cool the enclosure better, or use the drive's derating for this temperature.",
    source="the drive's rating as entered; heat balance of the enclosure",
)
def drive_too_warm(whole: LineView) -> Iterator[LineFound]:
    """The inside of an enclosure gets warmer than a drive in it stands."""
    inside = {}
    for heat in whole.heats:
        if heat.inside_k is not None:
            inside[heat.enclosure.id] = (heat.enclosure, "reaches", heat.inside_k)
        elif heat.enclosure.inside_max_k is not None:
            inside[heat.enclosure.id] = (heat.enclosure, "may reach", heat.enclosure.inside_max_k)
    for entry in whole.stations:
        held = inside.get(entry.station.drive.enclosure_id or 0)
        stands = entry.drive_type.ambient_max_k if entry.drive_type else None
        if held is None or stands is None or held[2] <= stands + 0.05:
            continue
        assert entry.drive_type is not None
        yield (
            entry.station,
            Place("drive", entry.station.drive.id, "enclosure_id"),
            {
                "enclosure": held[0].name,
                "reaches": held[1],
                "inside_k": held[2],
                "drive_type": entry.drive_type.name,
                "drive_k": stands,
            },
        )
