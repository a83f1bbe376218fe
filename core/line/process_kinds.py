"""What each kind of station does to the fruit: places, gaps, turns, drift, water."""

import math
from collections.abc import Callable, Mapping

from core.calc import (
    belt_pair,
    brush_bed,
    brush_places,
    camera,
    cup_drop,
    cups,
    pump,
    spacing,
    throughput,
    water,
)
from core.line import plan_rules as rules
from core.line.aims import PACKING
from core.line.work import COVER_MOST, Speeds, Work, is_single_file, per_valley
from core.model import Station


def _in_file(work: Work) -> None:
    pitch = work.figure(
        rules.PITCH,
        spacing.pitch_at_m,
        speed_m_s=work.speeds.own or None,
        lanes=work.lanes,
        flow_1_s=work.flow_1_s or None,
    )
    work.figure(rules.GAP, spacing.gap_m, pitch_m=pitch, diameter_m=work.diameter_m)


def _wide(work: Work) -> None:
    held = work.station.process
    if not held.row_pitch_m:
        work.figure(
            rules.COVER,
            spacing.cover_share,
            flow_1_s=work.flow_1_s,
            speed_m_s=work.speeds.own or None,
            width_m=held.carrying_width_m,
            diameter_m=work.diameter_m,
        )
    recipe = work.scene.recipe
    work.figure(
        rules.MASS_ON,
        lambda flow_1_s, fruit_mass_kg, speed_m_s: flow_1_s * fruit_mass_kg / speed_m_s,
        flow_1_s=work.flow_1_s,
        fruit_mass_kg=recipe.fruit_mass_kg if recipe else None,
        speed_m_s=work.speeds.own or None,
    )


def _belt(work: Work) -> None:
    (_in_file if is_single_file(work.station) else _wide)(work)


def _brush_bed(work: Work) -> None:
    forward, reverse = rows_of(work.station, work.speeds)
    held = work.station.process
    if forward is None or reverse is None:
        return
    drift = work.figure(
        rules.DRIFT,
        brush_bed.drift_index_m_s,
        forward_m_s=forward,
        reverse_m_s=reverse,
        travel_factor=held.travel_factor or 1.0,
    )
    work.figure(rules.SCRUB, brush_bed.scrub_index_m_s, forward_m_s=forward, reverse_m_s=reverse)
    in_valley = per_valley(work)
    needed = work.figure(
        rules.DRIFT_NEEDED,
        brush_places.needed_drift_m_s,
        flow_1_s=work.flow_1_s,
        brush_pitch_m=held.brush_pitch_m,
        per_valley=in_valley,
    )
    forwards = drift if drift and drift > 0 else None
    work.figure(
        rules.PLACES_USED, brush_places.places_used_share, needed_m_s=needed, drift_m_s=forwards
    )
    work.figure(
        rules.TIME_ON_BRUSHES,
        brush_places.time_on_bed_s,
        length_m=held.carrying_length_m,
        drift_m_s=forwards,
    )
    bed = work.figure(
        rules.PLACES,
        lambda valleys, bed_width_m, diameter_m, packing_share: brush_places.places(
            valleys, brush_places.fruit_per_valley(bed_width_m, diameter_m, packing_share)
        ),
        valleys=_valleys(work),
        bed_width_m=held.bed_width_m,
        diameter_m=work.diameter_m,
        packing_share=held.packing or PACKING,
    )
    work.figure(
        rules.TIME_BY_PLACES,
        brush_places.time_by_places_s,
        places=bed,
        flow_1_s=work.flow_1_s or None,
    )


def rows_of(station: Station, speeds: Speeds) -> tuple[float | None, float | None]:
    """Speeds of the forward and the reverse row of a bed; None without rows that counter-turn."""
    if speeds.own is None or speeds.partner is None:
        return None, None
    if station.turn == "reverse":
        return speeds.partner, speeds.own
    return speeds.own, speeds.partner


def _valleys(work: Work) -> int | None:
    held = work.station.process
    if not held.brush_pitch_m or not held.carrying_length_m:
        return None
    return max(1, round(held.carrying_length_m / held.brush_pitch_m))


def _vee(work: Work) -> None:
    own, partner = work.speeds.own, work.speeds.partner
    pair = work.scene.place_pair(work.station)
    if own is None or partner is None or pair is None:
        _in_file(work)
        return
    first = pair.first_station_id == work.station.id
    a, b = (own, partner) if first else (partner, own)
    mean = work.figure(rules.VEE_MEAN, belt_pair.mean_speed_m_s, first_m_s=a, second_m_s=b)
    pitch = work.figure(
        rules.PITCH,
        spacing.pitch_at_m,
        speed_m_s=mean or None,
        lanes=work.lanes,
        flow_1_s=work.flow_1_s or None,
    )
    work.figure(rules.GAP, spacing.gap_m, pitch_m=pitch, diameter_m=work.diameter_m)
    work.figure(
        rules.VEE_TURNING,
        belt_pair.turning_rad_s,
        first_m_s=a,
        second_m_s=b,
        diameter_m=work.diameter_m,
        slope_rad=work.station.process.belt_slope_rad,
    )
    if not math.isclose(a, b):
        work.figure(
            rules.VEE_SEPARATION,
            belt_pair.separation_length_m,
            first_m_s=a,
            second_m_s=b,
            diameter_m=work.diameter_m,
        )


def _spin(work: Work) -> None:
    held, speeds = work.station.process, work.speeds
    if speeds.own is None or not speeds.carrier:
        return
    own = -speeds.own if work.station.turn == "reverse" else speeds.own
    factor = held.contact_factor or 1.0
    work.figure(rules.CARRIER, lambda carrier_m_s: carrier_m_s, carrier_m_s=speeds.carrier)
    turns = work.figure(
        rules.TURNS,
        camera.turns_in_view,
        carrier_m_s=speeds.carrier,
        spin_m_s=own,
        diameter_m=work.diameter_m,
        view_length_m=held.view_length_m,
        contact_factor=factor,
    )
    dwell = work.figure(
        rules.DWELL,
        camera.dwell_s,
        carrier_m_s=speeds.carrier,
        view_length_m=held.view_length_m,
    )
    images: float | None = held.images_per_fruit
    if held.frames_hz:
        images = work.figure(
            rules.IMAGES, camera.images_at, frames_hz=held.frames_hz, dwell_s=dwell
        )
    work.figure(
        rules.FRAMES_NEEDED,
        camera.frames_needed_hz,
        images=held.images_per_fruit,
        dwell_s=dwell,
    )
    work.figure(
        rules.ANGLE, camera.angle_per_image_rad, turns=turns, images=images if images else None
    )
    work.figure(
        rules.BLUR,
        lambda carrier_m_s, turning_m_s, exposure_s: (carrier_m_s + turning_m_s) * exposure_s,
        carrier_m_s=speeds.carrier,
        turning_m_s=abs(speeds.carrier - own) * factor,
        exposure_s=held.exposure_s,
    )


def _cup_conveyor(work: Work) -> None:
    held, speed = work.station.process, work.speeds.own
    train = work.station.drivetrain
    if not speed or not held.cup_pitch_m:
        return
    rate = work.figure(
        rules.CUPS_RATE, cups.cups_rate_1_s, speed_m_s=speed, cup_pitch_m=held.cup_pitch_m
    )
    work.figure(
        rules.FILL_NEEDED,
        lambda flow_1_s, lanes, cups_1_s: flow_1_s / (lanes * cups_1_s),
        flow_1_s=work.flow_1_s,
        lanes=work.lanes,
        cups_1_s=rate,
    )
    work.figure(
        rules.PULSES,
        cup_drop.pulses_per_cup,
        encoder_pulses=held.encoder_pulses,
        cup_pitch_m=held.cup_pitch_m,
        chain_teeth=train.chain_teeth,
        chain_pitch_m=train.chain_pitch_m,
    )
    work.figure(
        rules.POSITION_STEP,
        cup_drop.position_step_m,
        encoder_pulses=held.encoder_pulses,
        chain_teeth=train.chain_teeth,
        chain_pitch_m=train.chain_pitch_m,
    )
    lead = work.figure(rules.LEAD, cup_drop.lead_m, speed_m_s=speed, latency_s=held.drop_latency_s)
    work.figure(
        rules.LEAD_CUPS,
        lambda lead_m, cup_pitch_m: lead_m / cup_pitch_m,
        lead_m=lead,
        cup_pitch_m=held.cup_pitch_m,
    )
    work.figure(rules.LEAD_CHANGE, lambda lead_m: lead_m / 10.0, lead_m=lead)


def _pump(work: Work) -> None:
    held = work.station.process
    motors, ratio = work.station.motors, work.scene.results[work.station.id].shaft.ratio
    rated = motors[0].speed_rad_s if motors else None
    flow = work.figure(
        rules.WATER_FLOW,
        pump.pump_flow_m3_s,
        rated_flow_m3_s=held.pump_flow_m3_s,
        speed_rad_s=work.speeds.shaft_rad_s,
        # The flow is entered at the rated speed of the motor; a belt may turn the pump otherwise.
        rated_speed_rad_s=rated / ratio if rated and ratio else None,
    )
    speed = work.figure(
        rules.WATER_SPEED,
        water.flume_velocity_m_s,
        flow_m3_s=flow,
        width_m=held.flume_width_m,
        depth_m=held.flume_depth_m,
    )
    work.figure(rules.FROUDE, water.froude, velocity_m_s=speed or None, depth_m=held.flume_depth_m)
    recipe = work.scene.recipe
    work.figure(
        rules.BINS_CARRIED,
        lambda water_m_s, width_m, diameter_m, fruit_mass_kg, bin_mass_kg: throughput.bins_rate_1_s(
            water.fruit_carried_1_s(water_m_s, width_m, diameter_m, COVER_MOST),
            fruit_mass_kg,
            bin_mass_kg,
        ),
        water_m_s=speed,
        width_m=held.flume_width_m,
        diameter_m=work.diameter_m,
        fruit_mass_kg=recipe.fruit_mass_kg if recipe else None,
        bin_mass_kg=recipe.bin_mass_kg if recipe else None,
    )


BY_KIND: Mapping[str, Callable[[Work], None]] = {
    "elevator": _wide,
    "roller_conveyor": _wide,
    "take_away": _wide,
    "other": _wide,
    "belt": _belt,
    "belt_pair_side": _vee,
    "brush_bed": _brush_bed,
    "spin_section": _spin,
    "cup_conveyor": _cup_conveyor,
    "pump": _pump,
}
"""The figures of each kind of station; kinds that are not here do nothing of their own."""
