"""The part of a reference's travel in which turning it changes the speed."""

from core.errors import RangeError
from core.line.chain import Chain


def acting_travel(chain: Chain) -> tuple[float, float] | None:
    """Ends of the travel between which the drive follows its reference.

    Below and above them the drive's lowest or highest frequency holds the speed, whatever the
    reference does.

    Parameters
    ----------
    chain : Chain
        A reference that is known from end to end.

    Returns
    -------
    tuple of float or None
        Lower and upper share of the travel, 0 to 1; None where no signal is known for them, or
        nothing is left between them.

    Notes
    -----
    The relation between signal and frequency is the chain's own; nothing is reckoned anew here.
    """
    limits = chain.limits
    ends = sorted((limits.bottom_hz, limits.top_hz))
    low = max(ends[0], limits.minimum_hz)
    high = min(ends[1], limits.maximum_hz)
    if low >= high:
        return None
    try:
        shares = sorted(chain.fraction_for(chain.signal_for(hertz)) for hertz in (low, high))
    except RangeError:
        return None
    return max(0.0, shares[0]), min(1.0, shares[1])
