"""How far an image is smeared by travel and turning while it is exposed.

Geometry; the lens and the light add to it.
"""

from core.calc import checks
from core.errors import RangeError

__all__ = [
    "blur_m",
    "blur_most_m",
    "exposure_for_blur_s",
]


def blur_m(transport_m_s: float, turning_m_s: float, exposure_s: float) -> float:
    r"""How far the skin that faces the camera moves in one exposure.

    .. math:: b = \left|v_c + w\right| \, t

    Parameters
    ----------
    transport_m_s : float
        Speed of the fruit's middle past the camera; zero where the camera moves along [m/s]
    turning_m_s : float
        Speed of the skin on the camera's side about the fruit's middle, above zero with the
        travel, below zero against it [m/s]
    exposure_s : float
        Exposure, or the flash of light where that is shorter [s]

    Returns
    -------
    float
        Blur, as length on the fruit [m]

    Raises
    ------
    RangeError
        A speed is no finite number, or exposure below zero

    Notes
    -----
    For a camera above, in the middle of the fruit as it sees it. Fruit that lies on a slower belt
    itself turns with the travel on top, and both add up; fruit on rollers that such a belt turns
    goes round the other way, and they cancel in part. The outline of the fruit blurs by the
    transport alone. Left out: focus, and parts of the skin nearer to the camera than others.
    Size by :func:`surface_turning_m_s`.

    Examples
    --------
    >>> round(1e3 * blur_m(0.5, 0.3, 0.001), 9)
    0.8
    >>> round(1e3 * blur_m(0.5, -0.3, 0.001), 9)
    0.2

    References
    ----------
    .. [1] Two speeds at one point of a rolling body, worked out for this program
    """
    checks.finite(transport_m_s, "the speed of the fruit", "m/s")
    checks.finite(turning_m_s, "the speed of the skin", "m/s")
    checks.not_negative(exposure_s, "the exposure", "s")
    return abs(transport_m_s + turning_m_s) * exposure_s


def blur_most_m(transport_m_s: float, turning_m_s: float, exposure_s: float) -> float:
    r"""Most that the skin can move in one exposure: where transport and turning add up.

    .. math:: b = \left(|v_c| + |w|\right) \, t

    Parameters
    ----------
    transport_m_s : float
        Speed of the fruit's middle past the camera; zero where the camera moves along [m/s]
    turning_m_s : float
        Speed of the skin about the fruit's middle, by :func:`surface_turning_m_s` [m/s]
    exposure_s : float
        Exposure, or the flash of light where that is shorter [s]

    Returns
    -------
    float
        Blur at most, as length on the fruit [m]

    Raises
    ------
    RangeError
        A speed is no finite number, or exposure below zero

    Examples
    --------
    >>> round(1e3 * blur_most_m(0.5, -0.3, 0.001), 9)
    0.8

    References
    ----------
    .. [1] Two speeds at one point of a rolling body, worked out for this program
    """
    return blur_m(abs(transport_m_s), abs(turning_m_s), exposure_s)


def exposure_for_blur_s(transport_m_s: float, turning_m_s: float, blur_m: float) -> float:
    r"""Longest exposure that keeps a blur, with transport and turning added up.

    .. math:: t = \frac{b}{|v_c| + |w|}

    Parameters
    ----------
    transport_m_s : float
        Speed of the fruit's middle past the camera [m/s]
    turning_m_s : float
        Speed of the skin about the fruit's middle, by :func:`surface_turning_m_s` [m/s]
    blur_m : float
        Blur allowed, as length on the fruit [m]

    Returns
    -------
    float
        Exposure [s]

    Raises
    ------
    RangeError
        A speed is no finite number, nothing moves, or blur below zero

    Examples
    --------
    >>> round(exposure_for_blur_s(0.5, 0.3, 0.0004), 9)
    0.0005

    References
    ----------
    .. [1] :func:`blur_most_m` turned round
    """
    checks.not_negative(blur_m, "the blur allowed", "m")
    speed = blur_most_m(transport_m_s, turning_m_s, 1.0)
    if speed == 0.0:
        raise RangeError(
            "The exposure was not computed.",
            "Nothing moves past the camera, so that nothing blurs.",
            "Give the speed of the carrier.",
        )
    return blur_m / speed
