"""The plan as plain data for other programs, and as text for a terminal."""

from collections.abc import Mapping
from typing import Any

from core.line.figures import Figure
from core.line.listing import working_as_data
from core.line.pairs import PairResult
from core.line.plan import Plan, PlanEntry
from core.line.results import LineResults
from core.line.stopping import Step, stopping_of
from core.units import System, show_computed

FORMAT_NAME = "linebook-plan-1"


def plan_as_data(results: LineResults, recipe: str | None = None) -> dict[str, Any]:
    """The plan of every recipe, or of the one named, in SI, the unit in each key.

    The keys are those of docs/command-line.md and stay as they are.
    """
    return {
        "format": FORMAT_NAME,
        "line": results.line.name,
        "recipes": [_recipe(plan) for plan in _chosen(results, recipe)],
    }


def _chosen(results: LineResults, recipe: str | None) -> tuple[Plan, ...]:
    if recipe is None:
        return results.plans
    return tuple(plan for plan in results.plans if plan.recipe and plan.recipe.name == recipe)


def _recipe(plan: Plan) -> dict[str, Any]:
    tags = {station_id: entry.tag for station_id, entry in plan.entries.items()}
    recipe = plan.recipe
    return {
        "recipe": recipe.name if recipe else None,
        "fruit": recipe.fruit if recipe else None,
        "feed": _figures(plan.rates.figures),
        "order": [tags[entry] for entry in plan.graph.order],
        "bottleneck": tags.get(plan.bottleneck_id or 0),
        "most_feed_1_s": plan.most_feed_1_s,
        "stations": [_station(entry) for entry in plan.entries.values()],
        "pairs": [_pair(result) for result in plan.pairs],
        "flow_faults": [
            {"kind": fault.kind, "stations": [tags[entry] for entry in fault.station_ids]}
            for fault in plan.flow_faults
        ],
        "troubles": [
            {"kind": trouble.kind, "stations": [tags[entry] for entry in trouble.station_ids]}
            for trouble in plan.troubles
        ],
        "stopping": [_step(step) for step in stopping_of(plan)],
    }


def _station(entry: PlanEntry) -> dict[str, Any]:
    return {
        "tag": entry.tag,
        "name": entry.station.name,
        "basis": entry.basis,
        "fruit_flow_1_s": entry.flow_1_s,
        "wanted": _figures(entry.wanted),
        "planned": _figures(entry.planned),
        "present": {
            "frequency_now_hz": entry.present_hz,
            "surface_speed_now_m_s": entry.present_m_s,
            **_figures(entry.present),
        },
        "workings": {
            part: {key: working_as_data(figure) for key, figure in held.items()}
            for part, held in (
                ("wanted", entry.wanted),
                ("planned", entry.planned),
                ("present", entry.present),
            )
        },
    }


def _figures(figures: Mapping[str, Figure]) -> dict[str, float | None]:
    return {key: figure.value for key, figure in figures.items()}


def _pair(result: PairResult) -> dict[str, Any]:
    return {
        "pair": result.pair.name,
        "first": result.first.result.tag,
        "second": result.second.result.tag,
        "wanted_share": result.wanted,
        "tolerance_share": result.tolerance,
        "planned_share": result.planned,
        "present_share": result.present,
        "standard_uncertainty_share": result.u,
        "budget": [{"part": name, "variance_share": share} for name, share in result.parts],
        "assumed": [held.part for held in result.assumed],
        "chance_outside": result.chance_outside,
        "chance_sign_changes": result.chance_sign,
        "holds": result.holds,
        "problem": result.problem,
        "remedies": [
            {
                "remedy": held.key,
                "standard_uncertainty_share": held.u,
                "chance_outside": held.chance_outside,
                "chance_sign_changes": held.chance_sign,
            }
            for held in result.remedies
        ],
    }


def _step(step: Step) -> dict[str, Any]:
    return {
        "tag": step.tag,
        "stop_after_s": step.stop_after_s,
        "start_after_s": step.start_after_s,
        "ramp_down_s": step.ramp_down_s,
        "fruit_left_on_stop": step.fruit_left,
        "pile_up_fruit": step.pile_up,
    }


_HEADINGS = (
    "Tag", "Name", "Fruit", "Planned", "Hz", "Ref", "Now", "Hz now", "Used",
)  # fmt: skip


def plan_as_text(results: LineResults, recipe: str | None = None) -> str:
    """A table for each recipe, or for the one named, in the units of the line."""
    system = results.line.unit_system
    return "\n\n".join(_as_text(plan, system) for plan in _chosen(results, recipe))


def _as_text(plan: Plan, system: System) -> str:
    rows = [_HEADINGS]
    for entry in plan.entries.values():
        rows.append(
            (
                entry.tag,
                entry.station.name[:34],
                _shown(entry.flow_1_s, "count_rate", system),
                _shown(entry.planned_m_s, "surface_speed", system),
                _shown(entry.planned_hz, "frequency", system),
                _shown(entry.planned_share, "ratio", system),
                _shown(entry.present_m_s, "surface_speed", system),
                _shown(entry.present_hz, "frequency", system),
                _shown(entry.used_share, "ratio", system),
            )
        )
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    lines = [_head(plan, system)]
    lines += [
        "  ".join(text.ljust(width) for text, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]
    lines += [_pair_text(result, system) for result in plan.pairs]
    return "\n".join(lines)


def _head(plan: Plan, system: System) -> str:
    name = plan.recipe.name if plan.recipe else "No recipe"
    told = [f"{name}: {_shown(plan.rates.feed_1_s, 'count_rate', system)} of fruit fed."]
    if plan.bottleneck_id is not None:
        tag = plan.entries[plan.bottleneck_id].tag
        most = _shown(plan.most_feed_1_s, "count_rate", system)
        told.append(f"Bottleneck: {tag}, full at {most}.")
    return " ".join(told)


def _pair_text(result: PairResult, system: System) -> str:
    words = f"{result.pair.name}: planned {_shown(result.planned, 'ratio', system)}"
    if result.u is not None:
        words += f" ± {_shown(2.0 * result.u, 'ratio', system)} (k = 2)"
    words += f", now {_shown(result.present, 'ratio', system)}"
    if result.problem:
        words += f". {result.problem}"
    if result.is_planned_within is False:
        words += ", planned outside of its band"
    elif result.holds is not None:
        words += ", holds" if result.holds else ", cannot hold its band"
    return words


def _shown(value: float | None, kind: str, system: System) -> str:
    return "-" if value is None else str(show_computed(value, kind, system))
