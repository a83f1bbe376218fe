"""What a station does to the fruit at given speeds.

The same functions serve the planned speeds and those that are set now.
"""

from collections.abc import Mapping

from core.calc import transfer
from core.line import plan_rules as rules
from core.line.capacity import capacity
from core.line.figures import Figure
from core.line.process_kinds import BY_KIND
from core.line.scene import Scene
from core.line.work import Speeds, Work
from core.model import Station


def process_figures(scene: Scene, station: Station, speeds: Speeds) -> Mapping[str, Figure]:
    """Everything that a station does to the fruit at these speeds."""
    work = Work(scene, station, speeds)
    _everywhere(work)
    if (by_kind := BY_KIND.get(station.kind)) is not None:
        by_kind(work)
    most = capacity(work)
    use = work.figure(
        rules.USE,
        lambda flow_1_s, capacity_1_s: flow_1_s / capacity_1_s,
        flow_1_s=work.flow_1_s,
        capacity_1_s=most if most else None,
    )
    if station.kind != "brush_bed":
        work.figure(
            rules.SPEED_NEEDED,
            lambda speed_m_s, used_share: speed_m_s * used_share,
            speed_m_s=speeds.own,
            used_share=use,
        )
    return work.bench.figures


def _everywhere(work: Work) -> None:
    held, speed = work.station.process, work.speeds.own
    if work.station.kind not in ("pump", "fan", "brush_bed", "spin_section") and speed:
        work.figure(
            rules.TIME_ON,
            lambda length_m, speed_m_s: length_m / speed_m_s,
            length_m=held.carrying_length_m,
            speed_m_s=speed,
        )
        work.figure(
            rules.FRUIT_ON,
            lambda flow_1_s, length_m, speed_m_s: flow_1_s * length_m / speed_m_s,
            flow_1_s=work.flow_1_s,
            length_m=held.carrying_length_m,
            speed_m_s=speed,
        )
    drop = held.drop_out_m
    work.figure(rules.DROP_SPEED, transfer.impact_speed_m_s, height_m=drop)
    work.figure(
        rules.DROP_ENERGY,
        transfer.impact_energy_j,
        mass_kg=work.scene.recipe.fruit_mass_kg if work.scene.recipe else None,
        height_m=drop,
    )
