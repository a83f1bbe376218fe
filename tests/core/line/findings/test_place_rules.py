"""Water against protection class, heat against what a drive stands."""

import dataclasses

import pytest

from core.line.findings.place_rules import water_digit
from tests.core.line.findings.sound import ENCLOSURE, change, fires, line, numbered, quiet


def test_protection_class_fires():
    entry = fires("protection-class", line(change(motor={"protection": "IP54"})))
    assert "The motor has protection class IP54; a washdown area asks for IPX5" in entry.says("us")
    # A drive outside of any enclosure stands in the water itself.
    entry = fires("protection-class", line(change(drive={"enclosure_id": None})))
    assert "The drive has protection class IP20" in entry.says("us")


def test_protection_class_quiet():
    quiet("protection-class", line(change(motor={"protection": "IP55"})))
    quiet("protection-class", line(change(area="damp", motor={"protection": "IP54"})))
    quiet("protection-class", line(change(area="dry", motor={"protection": "ODP"})))
    quiet("protection-class", line(change(motor={"protection": ""})))


@pytest.mark.parametrize(
    ("words", "digit"),
    [
        ("IP55", 5),
        ("ip 65", 5),
        ("IPX6", 6),
        ("IP69K", 9),
        ("TEFC, IP55", 5),
        ("NEMA 4X", 6),
        ("Type 12", 4),
        ("NEMA 1", 0),
        ("ODP", 2),
        ("TEFC", 4),
        ("", None),
        ("as marked", None),
    ],
)
def test_water_digit_is_read_as_plates_write_it(words, digit):
    # Second digit of IEC 60529; NEMA 250 annex A and MG 1 1.25/1.26 from memory.
    assert water_digit(words) == digit


def placed(**changes):
    return line(enclosures=(dataclasses.replace(ENCLOSURE, **changes),))


def test_enclosure_protection_fires():
    entry = fires("enclosure-protection", placed(area="washdown", protection="IP54"))
    assert entry.level == "fault"
    assert "panel has protection class IP54; a washdown area asks for IPX5" in entry.says("us")
    # NEMA 250 type 12 keeps out dripping water, type 1 none.
    fires("enclosure-protection", placed(area="damp", protection="NEMA 1"))
    fires("enclosure-protection", placed(area="washdown", protection="NEMA 12"))


def test_enclosure_protection_quiet():
    quiet("enclosure-protection", placed(area="washdown", protection="IP66"))
    quiet("enclosure-protection", placed(area="washdown", protection="NEMA 4X"))
    quiet("enclosure-protection", placed(area="damp", protection="IP54"))
    quiet("enclosure-protection", placed(area="dry", protection="IP20"))
    quiet("enclosure-protection", placed(area=None, protection="IP20"))
    quiet("enclosure-protection", placed(area="washdown", protection=""))


def test_enclosure_material_fires():
    entry = fires("enclosure-material", placed(area="washdown", protection="IP66"))
    assert entry.level == "advice"
    assert "panel is of painted steel" in entry.says("us")
    assert "stainless steel or plastic" in entry.mend("us")


def test_enclosure_material_quiet():
    for material in ("stainless_steel", "plastic", None):
        quiet("enclosure-material", placed(area="washdown", material=material))
    quiet("enclosure-material", placed(area="damp"))
    quiet("enclosure-material", placed(area=None))


def hot(**changes):
    return (dataclasses.replace(ENCLOSURE, **changes),)


def test_drive_too_warm_fires():
    # A = 1.4*0.8*(1.0+0.3) + 1.8*0.3*1.0 = 1.996 m²; 5.5 * 1.996 = 10.978 W/K; 44 W: +4.01 K.
    # 48 °C + 4.01 K = 52.01 °C (325.16 K), and the drive stands 50 °C.
    entry = fires("drive-too-warm", line(enclosures=hot(ambient_max_k=321.15, inside_max_k=330.0)))
    assert entry.values["inside_k"] == pytest.approx(325.158, abs=0.01)
    assert "reaches 52.01 °C inside; drive type S drive stands 50 °C" in entry.says("metric")
    # Without the sizes the temperature that is allowed inside is all there is to go by.
    entry = fires("drive-too-warm", line(enclosures=hot(width_m=None, inside_max_k=328.15)))
    assert "may reach 55 °C" in entry.says("metric")


def test_drive_too_warm_quiet():
    quiet("drive-too-warm", line(enclosures=hot(ambient_max_k=318.15, inside_max_k=330.0)))
    quiet("drive-too-warm", line(enclosures=hot(width_m=None)))
    quiet("drive-too-warm", line(numbered(1, drive={"enclosure_id": None}), enclosures=hot()))
