"""How much fruit a station carries at most, at given speeds, by its kind."""

from collections.abc import Callable, Mapping

from core.calc import brush_places, cups, spacing, water
from core.line import plan_rules as rules
from core.line.work import COVER_MOST, Work, is_single_file, per_valley


def capacity(work: Work) -> float | None:
    """Fruit that the station carries at most; None where too little is known."""
    made = _CAPACITIES.get(work.station.kind)
    return made(work) if made else None


def _wide_capacity(work: Work) -> float | None:
    held, speed = work.station.process, work.speeds.own
    if is_single_file(work.station):
        return _file_capacity(work)
    if held.row_pitch_m and held.fruit_per_row:
        return work.figure(
            rules.CAPACITY,
            spacing.fruit_rate_at_1_s,
            speed_m_s=speed,
            lanes=held.fruit_per_row,
            pitch_m=held.row_pitch_m,
            filled_share=1.0,
        )
    return work.figure(
        rules.CAPACITY,
        spacing.wide_rate_1_s,
        speed_m_s=speed,
        width_m=held.carrying_width_m,
        diameter_m=work.diameter_m,
        cover_share=held.cover_most or COVER_MOST,
    )


def _file_capacity(work: Work) -> float | None:
    aim = work.scene.aim(work.station)
    pitch = work.diameter_m
    if aim.wanted == "pitch":
        pitch = aim.wanted_pitch_m
    elif aim.wanted == "gap" and work.diameter_m and aim.wanted_gap_m is not None:
        pitch = work.diameter_m + aim.wanted_gap_m
    mean = work.speeds.own
    if work.speeds.partner is not None and mean is not None:
        mean = (mean + work.speeds.partner) / 2.0
    return work.figure(
        rules.CAPACITY,
        spacing.fruit_rate_at_1_s,
        speed_m_s=mean,
        lanes=work.lanes,
        pitch_m=pitch,
        # The places that stay empty on purpose carry nothing; touching, all could be filled.
        filled_share=aim.wanted_filled or 1.0 if aim.wanted != "touching" else 1.0,
    )


def _bed_capacity(work: Work) -> float | None:
    drift = work.bench.figures.get(rules.DRIFT.key)
    if drift is None or drift.value is None:
        return None
    return work.figure(
        rules.CAPACITY,
        brush_places.capacity_1_s,
        drift_m_s=max(0.0, drift.value),
        brush_pitch_m=work.station.process.brush_pitch_m,
        per_valley=per_valley(work),
    )


def _cup_capacity(work: Work) -> float | None:
    held = work.station.process
    return work.figure(
        rules.CAPACITY,
        cups.fruit_rate_1_s,
        speed_m_s=work.speeds.own,
        cup_pitch_m=held.cup_pitch_m,
        lanes=work.lanes,
        filled_share=held.cup_fill,
    )


def _flume_capacity(work: Work) -> float | None:
    held = work.station.process
    speed = work.bench.figures.get(rules.WATER_SPEED.key)
    return work.figure(
        rules.CAPACITY,
        water.fruit_carried_1_s,
        velocity_m_s=speed.value if speed else None,
        width_m=held.flume_width_m,
        diameter_m=work.diameter_m,
        cover_share=COVER_MOST,
    )


_CAPACITIES: Mapping[str, Callable[[Work], float | None]] = {
    "elevator": _wide_capacity,
    "roller_conveyor": _wide_capacity,
    "take_away": _wide_capacity,
    "other": _wide_capacity,
    "belt": _wide_capacity,
    "belt_pair_side": _file_capacity,
    "brush_bed": _bed_capacity,
    "cup_conveyor": _cup_capacity,
    "pump": _flume_capacity,
}
