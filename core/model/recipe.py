"""Recipes: the fruit that a line runs, how much of it, and where a station then runs otherwise."""

from core.model import aims, choices
from core.model.fields import children, choice, long_text, quantity, record, ref, text


@record("recipe_speed", "Own speed")
class RecipeSpeed:
    """One station that a recipe wants otherwise than the line as a rule does."""

    id: int = 0
    station_id: int | None = ref("station", "Station", unique=True)
    wanted: str = choice("Wanted", choices.WANTED_BASES, "none")
    wanted_m_s: float | None = aims.surface()
    wanted_rad_s: float | None = aims.shaft()
    wanted_hz: float | None = aims.frequency()
    wanted_gap_m: float | None = aims.gap()
    wanted_pitch_m: float | None = aims.pitch()
    wanted_filled: float | None = aims.filled()
    wanted_cover: float | None = aims.cover()
    wanted_time_s: float | None = aims.time()
    wanted_drift: float | None = aims.drift()
    wanted_turns: float | None = aims.turns()
    wanted_water_m_s: float | None = aims.water()


@record("recipe", "Recipe")
class Recipe:
    """One kind of fruit and how much of it; the first recipe is the one the line is set up for."""

    id: int = 0
    name: str = text("Recipe", hint="How you call it, e.g. plums", unique=True)
    fruit: str = text("Fruit kind")
    fruit_mass_kg: float | None = quantity("fruit_mass", "Mass of one fruit", above=True)
    fruit_diameter_m: float | None = quantity("size", "Diameter of one fruit", above=True)
    diameter_spread_m: float | None = quantity(
        "size", "Spread of diameter", hint="Standard deviation"
    )
    fruit_density_kg_m3: float | None = quantity("bulk_density", "Density of fruit", above=True)
    fruit_bulk_kg_m3: float | None = quantity("bulk_density", "Bulk density", above=True)
    throughput: str | None = choice("Wanted throughput as", choices.THROUGHPUT_BASES)
    bins_1_s: float | None = quantity("bin_rate", "Bins wanted", only={"throughput": "bins"})
    bin_mass_kg: float | None = quantity(
        "mass", "Mass of fruit in a bin", above=True, only={"throughput": "bins"}
    )
    mass_flow_kg_s: float | None = quantity("mass_flow", "Mass wanted", only={"throughput": "mass"})
    fruit_1_s: float | None = quantity("count_rate", "Fruit wanted", only={"throughput": "fruit"})
    culled: float | None = quantity("ratio", "Culled before sizing", maximum=1.0)
    notes: str = long_text("Notes")
    speeds: tuple[RecipeSpeed, ...] = children(RecipeSpeed)
