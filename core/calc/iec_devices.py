"""Overcurrent devices and what they ask of a conductor by IEC 60364-4-43.

Design current, device and conductor make a chain: the device carries the load, the conductor
carries the device, and an overload trips the device before it harms the conductor.
"""

from dataclasses import dataclass

from core.calc import checks
from core.calc.lookups import Row, chosen, first_reaching, rows

__all__ = [
    "Coordination",
    "conductor_current_a",
    "coordination",
    "device_rating_a",
    "tripping_current_a",
]

EDITION = "IEC 60364-4-43:2008"

DEVICES = ("breaker", "fuse")

# 433.1: a conductor stands 1.45 times its current until its device trips.
OVERLOAD = 1.45
BREAKER_TRIPS = 1.45
# Conventional fusing current of gG fuses, from this rating on (IEC 60269-1 Table 2; below 16 A
# IEC 60269-2 and -3).
_FUSE_TRIPS = ((16.0, 1.6), (6.0, 1.9), (0.0, 2.1))
_FUSE_REMARK = "IEC 60269 ratings and fusing currents: from memory, check before use."


@dataclass(frozen=True, slots=True)
class Coordination:
    """Design current, device, conductor [A] and the three conditions of 433.1."""

    design_a: float
    device_a: float
    conductor_a: float
    tripping_a: float
    device_carries_load: bool
    conductor_carries_device: bool
    overload_protected: bool
    remarks: tuple[str, ...] = ()
    edition: str = EDITION

    @property
    def holds(self) -> bool:
        """Whether all three conditions are met."""
        return (
            self.device_carries_load and self.conductor_carries_device and self.overload_protected
        )


def device_rating_a(design_a: float, device: str) -> float:
    r"""Rated current of the smallest standard device for a design current.

    .. math:: I_n \ge I_B

    Parameters
    ----------
    design_a : float
        Design current of the circuit; for a drive its rated input current [A]
    device : str
        breaker (IEC 60898-1) or fuse (IEC 60269, gG) [-]

    Returns
    -------
    float
        Rated current [A]

    Raises
    ------
    RangeError
        Current not above zero, beyond 125 A (breaker) or 400 A (fuse), or no such device

    Notes
    -----
    What the drive's maker names as the largest device must not be exceeded. Fuse ratings are from
    memory.

    Examples
    --------
    >>> device_rating_a(10.2, "breaker"), device_rating_a(10.2, "fuse")
    (13.0, 12.0)

    References
    ----------
    .. [1] IEC 60364-4-43:2008 433.1; IEC 60898-1:2015; IEC 60269-1:2006
    """
    checks.positive(design_a, "the design current", "A")
    return _device_row(design_a, device).numbers["rating_a"]


def tripping_current_a(device_a: float, device: str) -> float:
    r"""Current at which a device is sure to operate within its conventional time.

    .. math:: I_2 = 1.45\, I_n \text{ (breaker)}, \quad 1.6\, I_n \text{ (fuse gG, 16 A and more)}

    Parameters
    ----------
    device_a : float
        Rated current of the device [A]
    device : str
        breaker or fuse [-]

    Returns
    -------
    float
        Conventional operating current [A]

    Raises
    ------
    RangeError
        Current not above zero, or no such device

    Notes
    -----
    The time is one hour up to 63 A. Fuses below 16 A: 1.9 times, to 4 A 2.1 times (from memory).

    Examples
    --------
    >>> round(tripping_current_a(16.0, "breaker"), 2), round(tripping_current_a(16.0, "fuse"), 2)
    (23.2, 25.6)

    References
    ----------
    .. [1] IEC 60898-1:2015 Table 7; IEC 60269-1:2006 Table 2
    """
    checks.positive(device_a, "the rating of the device", "A")
    chosen(device, DEVICES, "the device")
    if device == "breaker":
        return BREAKER_TRIPS * device_a
    share = next(share for from_a, share in _FUSE_TRIPS if device_a >= from_a)
    return share * device_a


def conductor_current_a(device_a: float, device: str) -> float:
    r"""Least current a conductor must carry to be protected by a device.

    .. math:: I_z \ge \max(I_n,\; I_2 / 1.45)

    Parameters
    ----------
    device_a : float
        Rated current of the device [A]
    device : str
        breaker or fuse [-]

    Returns
    -------
    float
        Least current-carrying capacity [A]

    Raises
    ------
    RangeError
        Current not above zero, or no such device

    Examples
    --------
    >>> conductor_current_a(16.0, "breaker"), round(conductor_current_a(16.0, "fuse"), 2)
    (16.0, 17.66)

    References
    ----------
    .. [1] IEC 60364-4-43:2008 433.1
    """
    return max(device_a, tripping_current_a(device_a, device) / OVERLOAD)


def coordination(design_a: float, device_a: float, conductor_a: float, device: str) -> Coordination:
    r"""Whether load, device and conductor fit together.

    .. math:: I_B \le I_n \le I_z, \quad I_2 \le 1.45\, I_z

    Parameters
    ----------
    design_a : float
        Design current of the circuit [A]
    device_a : float
        Rated current of the device [A]
    conductor_a : float
        What the conductor may carry where it lies [A]
    device : str
        breaker or fuse [-]

    Returns
    -------
    Coordination
        The currents and each condition [A]

    Raises
    ------
    RangeError
        A current not above zero, or no such device

    Notes
    -----
    A drive protects its supply conductors against overload only if its maker says so; this check
    does not count on it.

    Examples
    --------
    >>> coordination(10.2, 13.0, 14.007, "breaker").holds
    True

    References
    ----------
    .. [1] IEC 60364-4-43:2008 433.1
    """
    checks.positive(design_a, "the design current", "A")
    checks.positive(conductor_a, "what the conductor may carry", "A")
    tripping_a = tripping_current_a(device_a, device)
    slack = 1.0 + 1e-9
    return Coordination(
        design_a=design_a,
        device_a=device_a,
        conductor_a=conductor_a,
        tripping_a=tripping_a,
        device_carries_load=design_a <= device_a * slack,
        conductor_carries_device=device_a <= conductor_a * slack,
        overload_protected=tripping_a <= OVERLOAD * conductor_a * slack,
        remarks=(_FUSE_REMARK,) if device == "fuse" else (),
    )


def _device_row(current_a: float, device: str) -> Row:
    chosen(device, DEVICES, "the device")
    table = tuple(row for row in rows("iec_device_ratings") if row.words["device"] == device)
    return first_reaching(table, "rating_a", current_a, "the design current", "A")
