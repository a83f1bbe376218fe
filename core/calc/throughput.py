"""From bins to fruit and back: how much a line is fed, and how much is left after culling.

Counting only, and exact as long as fruit and bins are near their mean mass.
"""

from core.calc import checks

__all__ = [
    "after_culls_1_s",
    "before_culls_1_s",
    "bins_rate_1_s",
    "fruit_rate_1_s",
    "mass_flow_kg_s",
    "mass_rate_kg_s",
]


def mass_flow_kg_s(bins_1_s: float, bin_mass_kg: float) -> float:
    r"""Mass fed by bins that are tipped at a steady rate.

    .. math:: \dot m = b \, m_{bin}

    Parameters
    ----------
    bins_1_s : float
        Bins tipped [1/s]
    bin_mass_kg : float
        Net mass of fruit in a bin [kg]

    Returns
    -------
    float
        Mass flow [kg/s]

    Raises
    ------
    RangeError
        Bins below zero, or mass not above zero

    Notes
    -----
    Net: weigh three bins full and empty. A mean over whole bins; the dump tank or the hopper
    evens out what one bin brings at once.

    Examples
    --------
    >>> mass_flow_kg_s(9 / 3600, 400.0)
    1.0

    References
    ----------
    .. [1] Counting
    """
    checks.not_negative(bins_1_s, "the bins tipped", "1/s")
    checks.positive(bin_mass_kg, "the mass of fruit in a bin", "kg")
    return bins_1_s * bin_mass_kg


def fruit_rate_1_s(mass_flow_kg_s: float, fruit_mass_kg: float) -> float:
    r"""Fruit in a mass flow.

    .. math:: q = \dot m / m

    Parameters
    ----------
    mass_flow_kg_s : float
        Mass flow [kg/s]
    fruit_mass_kg : float
        Mean mass of one fruit [kg]

    Returns
    -------
    float
        Fruit [1/s]

    Raises
    ------
    RangeError
        Mass flow below zero, or mass not above zero

    Notes
    -----
    By the mean mass, not by the mass of a fruit of mean diameter, which is a little less. Weigh
    50 fruit together. Leaves, stalks and water in the bin count as fruit.

    Examples
    --------
    >>> round(fruit_rate_1_s(0.8, 0.16), 9)
    5.0

    References
    ----------
    .. [1] Counting
    """
    checks.not_negative(mass_flow_kg_s, "the mass flow", "kg/s")
    checks.positive(fruit_mass_kg, "the mass of one fruit", "kg")
    return mass_flow_kg_s / fruit_mass_kg


def mass_rate_kg_s(flow_1_s: float, fruit_mass_kg: float) -> float:
    r"""Mass flow of so many fruit: :func:`fruit_rate_1_s` turned round.

    .. math:: \dot m = q \, m

    Parameters
    ----------
    flow_1_s : float
        Fruit [1/s]
    fruit_mass_kg : float
        Mean mass of one fruit [kg]

    Returns
    -------
    float
        Mass flow [kg/s]

    Raises
    ------
    RangeError
        Fruit below zero, or mass not above zero

    Examples
    --------
    >>> mass_rate_kg_s(7.0, 0.25)
    1.75

    References
    ----------
    .. [1] Counting
    """
    checks.not_negative(flow_1_s, "the fruit", "1/s")
    checks.positive(fruit_mass_kg, "the mass of one fruit", "kg")
    return flow_1_s * fruit_mass_kg


def after_culls_1_s(flow_1_s: float, culled_share: float) -> float:
    r"""Fruit that stays on the line where culls are taken off.

    .. math:: q' = q \, (1 - c)

    Parameters
    ----------
    flow_1_s : float
        Fruit that comes [1/s]
    culled_share : float
        Share of it that is taken off [-]

    Returns
    -------
    float
        Fruit that goes on [1/s]

    Raises
    ------
    RangeError
        Fruit below zero, or share outside of 0 to 1

    Notes
    -----
    A share by count. Culls that are smaller than the rest are a lesser share by mass.

    Examples
    --------
    >>> round(after_culls_1_s(10.0, 0.3), 9)
    7.0

    References
    ----------
    .. [1] Counting
    """
    checks.not_negative(flow_1_s, "the fruit that comes", "1/s")
    checks.ratio(culled_share, "the share of culls")
    return flow_1_s * (1.0 - culled_share)


def before_culls_1_s(flow_1_s: float, culled_share: float) -> float:
    r"""Fruit to be fed so that enough is left: :func:`after_culls_1_s` turned round.

    .. math:: q = \frac{q'}{1 - c}

    Parameters
    ----------
    flow_1_s : float
        Fruit wanted after the culls are taken off [1/s]
    culled_share : float
        Share that is taken off [-]

    Returns
    -------
    float
        Fruit to be fed [1/s]

    Raises
    ------
    RangeError
        Fruit below zero, share outside of 0 to 1, or all of it culled

    Examples
    --------
    >>> round(before_culls_1_s(7.0, 0.3), 9)
    10.0

    References
    ----------
    .. [1] Counting
    """
    checks.not_negative(flow_1_s, "the fruit wanted", "1/s")
    checks.ratio(culled_share, "the share of culls")
    checks.ratio(1.0 - culled_share, "the share of fruit that is left", zero=False)
    return flow_1_s / (1.0 - culled_share)


def bins_rate_1_s(flow_1_s: float, fruit_mass_kg: float, bin_mass_kg: float) -> float:
    r"""Bins that so many fruit fill, or come out of.

    .. math:: b = \frac{q \, m}{m_{bin}}

    Parameters
    ----------
    flow_1_s : float
        Fruit [1/s]
    fruit_mass_kg : float
        Mean mass of one fruit [kg]
    bin_mass_kg : float
        Net mass of fruit in a bin [kg]

    Returns
    -------
    float
        Bins [1/s]

    Raises
    ------
    RangeError
        Fruit below zero, or a mass not above zero

    Examples
    --------
    >>> round(3600 * bins_rate_1_s(5.0, 0.16, 320.0), 9)
    9.0

    References
    ----------
    .. [1] Counting
    """
    checks.positive(bin_mass_kg, "the mass of fruit in a bin", "kg")
    return mass_rate_kg_s(flow_1_s, fruit_mass_kg) / bin_mass_kg
