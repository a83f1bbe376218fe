"""The words of the speed plan, for `core.sheets.words`."""

from collections.abc import Mapping

ENGLISH: Mapping[str, str] = {
    "speed_plan": "Speed plan",
    "plan_subtitle": "Speeds, hertz and knobs from the fruit that is wanted, and what holds",
    "plan_of": "Plan: {recipe}",
    "no_recipe": "no recipe",
    "line_picture": "The line",
    "line_picture_of": "The line in the order of the flow: {recipe}",
    "picture_outside": "now set to {now}",
    "picture_knob": "{share} of travel",
    "picture_used": "{share} used",
    "plan_no_recipe": (
        "No recipe has been entered, so speeds that rest on the fruit are not planned."
    ),
    "plan_feed": "Fruit fed",
    "plan_mass": "Mass fed",
    "plan_fruit": "Fruit",
    "plan_bottleneck": "Bottleneck",
    "plan_bottleneck_value": "{tag}, at {use} of what it can carry",
    "plan_most_feed": "Full at a feed of",
    "plan_stations": "Station by station",
    "plan_key": (
        "Planned: what the recipe asks for. Now: what settings and references as entered give. "
        "Used: fruit to carry over what the station carries at most at its speed now."
    ),
    "plan_basis": "Wanted as",
    "plan_flow": "Fruit",
    "plan_planned": "Planned speed",
    "plan_now": "Speed now",
    "plan_shaft": "Shaft",
    "plan_hertz": "Hertz planned",
    "plan_hertz_now": "Hertz now",
    "plan_signal": "Signal",
    "plan_travel": "Travel",
    "plan_capacity": "Carries",
    "plan_used": "Used",
    "plan_band": "± (k = 2)",
    "plan_process": "What the stations do to the fruit",
    "plan_process_key": (
        "Figures marked “index” are right in sign and size only: measure once, store the factor."
    ),
    "plan_figure": "Figure",
    "plan_note": "What it leaves out",
    "plan_pairs": "Pairs",
    "plan_pairs_key": (
        "Differential: by how much the first is faster, of their mean. The band beside it is the "
        "expanded uncertainty (k = 2) that wiring, slip and sizes leave, by the GUM."
    ),
    "pair": "Pair",
    "pair_first": "First",
    "pair_second": "Second",
    "pair_wanted": "Wanted",
    "pair_tolerance": "±",
    "pair_planned": "Planned",
    "pair_now": "Now",
    "pair_outside": "Leaves band",
    "pair_sign": "Changes sign",
    "pair_verdict": "Verdict",
    "pair_holds": "✓ holds",
    "pair_outside_now": "✗ now set outside",
    "pair_fails": "✗ cannot hold it",
    "pair_open": "◇ no band entered",
    "pair_budget": "What makes {pair} unsure",
    "pair_part": "Part",
    "pair_variance": "Of the variance",
    "pair_assumed": "Assumed, as nobody entered it: {parts}.",
    "pair_remedy": "What would hold it better",
    "pair_remedy_u": "± then (k = 2)",
    "remedy_one_signal": "One signal for both, the ratio set in the drives",
    "remedy_span": "Both references narrowed to the range in use",
    "remedy_bus": "Hertz over a bus or at the keypad",
    "no_pairs": "No pair has been entered.",
    "plan_spans": "Travel of the knobs",
    "plan_spans_key": (
        "Ends of the reference that spread the travel over the range in use, over all recipes, "
        "with 15 % to spare on each side. What one per cent of travel does, before and after."
    ),
    "span_now": "Bottom to top now",
    "span_better": "Suggested",
    "span_step_now": "1 % of travel",
    "span_step_better": "then",
    "plan_stopping": "Starting and stopping",
    "plan_stopping_key": (
        "Stopped in this order nothing piles up with the ramps as set; started the other way "
        "round. Pile-up: what arrives too much at the next station if all stop at one moment, "
        "as an emergency stop makes them. An emergency stop leaves the fruit where it is. Where a "
        "stop coasts, its run-out against the load counts, an estimate."
    ),
    "stop_after": "Stop after",
    "start_after": "Start after",
    "ramp_down": "Ramp down",
    "ramp_up": "Ramp up",
    "fruit_left": "Fruit on it",
    "fruit_metre": "Fruit per metre",
    "fruit_foot": "Fruit per foot",
    "pile_up": "Pile-up",
    "plan_troubles": "What cannot be planned",
    "chart_speeds": "Surface speed along the line",
    "chart_capacity": "What each station carries, against what it gets",
    "chart_reference": "Reference against speed",
    "chart_ratio": "Ratio of the pairs as one knob for both is turned",
    "plan_charts": "Charts",
}
