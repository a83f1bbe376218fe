"""The speed plan on paper: the line drawn, every station's way from fruit to knob, the pairs."""

import datetime
from collections.abc import Collection, Iterator, Sequence

from core.line import LineResults, Plan, PlanEntry
from core.line.findings import find
from core.model import Line
from core.model.choices import WANTED_BASES
from core.sheets.cautions import caution_parts
from core.sheets.document import (
    Cell,
    Column,
    Document,
    Grid,
    Heading,
    KeyValue,
    KeyValues,
    Paragraph,
    Part,
    Picture,
    Section,
)
from core.sheets.entries import Entries
from core.sheets.front import chosen, front_section, sheet_of
from core.sheets.picture_pages import line_pictures
from core.sheets.plan_charts import charts_of
from core.sheets.plan_pairs import pair_parts
from core.sheets.plan_picture import picture_data
from core.sheets.plan_stopping import stopping_parts
from core.sheets.plan_travel import travel_parts

PICTURE_PAGE = (757.0, 430.0)
"""Room for a picture on a landscape page under its heading [pt]."""
_LEFT_OUT = frozenset(("capacity_1_s", "used_share", "carrier_speed_m_s"))


def speed_plan(
    line: Line,
    results: LineResults,
    station_ids: Collection[int] | None = None,
    today: datetime.date | None = None,
) -> Document:
    """The speed plan of a line, a chapter for each of its recipes.

    Parameters
    ----------
    line : Line
        From a file, or rebuilt from a record.
    results : LineResults
        Its results.
    station_ids : collection of int, optional
        The stations wanted in the tables; all without it. The pictures show the whole line.
    today : date, optional
        Printed on the first page.
    """
    entries = Entries.of(line)
    wanted = {station.id for station in chosen(line, station_ids)}
    sections = [front_section(entries, today, tuple(_front(entries, results)))]
    findings = find(results)
    for plan in results.plans:
        pictures = line_pictures(picture_data(results, plan, findings, entries.say), PICTURE_PAGE)
        title = _title(entries, plan)
        sections.append(
            Section(
                entries.say("line_picture_of", recipe=title),
                tuple(Picture(drawing) for drawing in pictures),
            )
        )
        shown = [entry for key, entry in plan.entries.items() if key in wanted]
        sections.append(
            Section(entries.say("plan_of", recipe=title), tuple(_plan(entries, plan, shown)))
        )
        sections += _more(entries, results, plan, shown, title)
    return sheet_of(entries, "speed_plan", "plan_subtitle", sections, landscape=True)


def _title(entries: Entries, plan: Plan) -> str:
    if plan.recipe is None:
        return entries.say("no_recipe")
    return plan.recipe.name or entries.say("no_name")


def _front(entries: Entries, results: LineResults) -> Iterator[Part]:
    say = entries.say
    for plan in results.plans:
        yield Heading(say("plan_of", recipe=_title(entries, plan)), 3)
        if plan.recipe is None:
            yield Paragraph(say("plan_no_recipe"), "quiet")
        yield KeyValues(tuple(_in_short(entries, plan)), columns=2)
    yield Paragraph(say("plan_key"), "quiet")
    yield from caution_parts(say)


def _in_short(entries: Entries, plan: Plan) -> Iterator[KeyValue]:
    say = entries.say
    if plan.recipe is not None:
        yield KeyValue(say("plan_fruit"), entries.text(plan.recipe.fruit))
    for figure in plan.rates.figures.values():
        yield KeyValue(entries.tr(figure.label), entries.computed(figure.value, figure.kind))
    if plan.bottleneck_id is not None:
        held = plan.entries[plan.bottleneck_id]
        use = f"{(held.limit_share or 0.0) * 100.0:.1f} %"
        words = say("plan_bottleneck_value", tag=held.tag, use=use)
        yield KeyValue(say("plan_bottleneck"), Cell(words, tone="strong"))
        yield KeyValue(say("plan_most_feed"), entries.computed(plan.most_feed_1_s, "count_rate"))


# --- the plan itself ------------------------------------------------------------------------


def _plan(entries: Entries, plan: Plan, shown: Sequence[PlanEntry]) -> Iterator[Part]:
    yield Grid(_columns(entries), tuple(_row(entries, plan, entry) for entry in shown))
    yield Paragraph(entries.say("plan_key"), "quiet")


def _columns(entries: Entries) -> tuple[Column, ...]:
    say = entries.say

    def amount(key: str, weight: float = 0.55) -> Column:
        return Column(say(key), weight, "right", units=True)

    return (
        Column(say("tag"), 0.4),
        Column(say("name"), 1.5),
        Column(say("plan_basis"), 0.9),
        amount("plan_flow"),
        amount("plan_planned", 0.7),
        amount("plan_shaft"),
        amount("plan_hertz"),
        amount("plan_signal"),
        amount("plan_travel", 0.5),
        amount("plan_now", 0.7),
        amount("plan_hertz_now"),
        amount("plan_capacity"),
        amount("plan_used", 0.5),
    )


def _row(entries: Entries, plan: Plan, entry: PlanEntry) -> tuple[Cell, ...]:
    bottleneck = plan.bottleneck_id == entry.station.id

    def wanted(key: str) -> Cell:
        figure = entry.wanted.get(key)
        return entries.computed(figure.value if figure else None, figure.kind if figure else "")

    signal = "signal_wanted_a" if "signal_wanted_a" in entry.wanted else "signal_wanted_v"
    used = entries.computed(entry.used_share, "ratio")
    return (
        Cell(entry.tag, tone="strong"),
        Cell(entry.station.name),
        Cell(entries.tr(WANTED_BASES[entry.basis]), tone="quiet"),
        entries.computed(entry.flow_1_s, "count_rate"),
        wanted("surface_speed_wanted_m_s"),
        wanted("shaft_speed_wanted_rad_s"),
        wanted("frequency_wanted_hz"),
        wanted(signal),
        wanted("reference_wanted_share"),
        entries.computed(entry.present_m_s, "surface_speed"),
        entries.computed(entry.present_hz, "frequency"),
        entries.computed(entry.capacity_1_s, "count_rate"),
        Cell(used.text, used.number, used.unit, "strong" if bottleneck else "plain"),
    )


def _more(
    entries: Entries,
    results: LineResults,
    plan: Plan,
    shown: Sequence[PlanEntry],
    title: str,
) -> Iterator[Section]:
    say = entries.say
    process = _process(entries, shown)
    if process is not None:
        yield Section(
            f"{say('plan_process')}: {title}",
            (process, Paragraph(say("plan_process_key"), "quiet")),
        )
    yield Section(f"{say('plan_pairs')}: {title}", tuple(pair_parts(entries, plan)))
    stopping = tuple(stopping_parts(entries, plan))
    if stopping:
        yield Section(f"{say('plan_stopping')}: {title}", stopping)
    if plan is results.plan:
        travel = tuple(travel_parts(entries, results))
        if travel:
            yield Section(say("plan_spans"), travel)
    charts = tuple(charts_of(entries, results, plan))
    if charts:
        yield Section(f"{say('plan_charts')}: {title}", charts)


def _process(entries: Entries, shown: Sequence[PlanEntry]) -> Grid | None:
    """What each station does to the fruit: as planned, and as set now."""
    say = entries.say
    columns = (
        Column(say("tag"), 0.5),
        Column(say("name"), 1.4),
        Column(say("plan_figure"), 1.5),
        Column(say("pair_planned"), 0.7, "right", units=True),
        Column(say("pair_now"), 0.7, "right", units=True),
        Column(say("plan_note"), 2.6),
    )
    rows = []
    for entry in shown:
        for key in dict.fromkeys((*entry.planned, *entry.present)):
            if key in _LEFT_OUT:
                continue
            figure = entry.present.get(key) or entry.planned[key]
            planned, now = (held.get(key) for held in (entry.planned, entry.present))
            rows.append(
                (
                    Cell(entry.tag, tone="strong"),
                    Cell(entry.station.name),
                    Cell(entries.tr(figure.label)),
                    entries.computed(planned.value if planned else None, figure.kind),
                    entries.computed(now.value if now else None, figure.kind),
                    Cell(entries.tr(figure.note), tone="quiet"),
                )
            )
    return Grid(columns, tuple(rows), heading_columns=2) if rows else None
