"""Fruit turning under a camera: turns and time in view, images of one fruit.

A carrier moves fruit through the view; rollers or a belt below turn it as they are slower, stand
or run the other way. What rests on rolling is an index, as fruit slips on what turns it; what rests
on counting frames is exact. Speeds of the spin belt are below zero against the travel.
"""

import math

from core.calc import checks

__all__ = [
    "angle_per_image_rad",
    "dwell_s",
    "frames_needed_hz",
    "images_at",
    "images_at_least",
    "images_per_turn",
    "spin_speed_m_s",
    "surface_turning_m_s",
    "turning_1_s",
    "turns_in_view",
]


def surface_turning_m_s(carrier_m_s: float, spin_m_s: float, contact_factor: float = 1.0) -> float:
    r"""Index of how fast the skin of a fruit goes round its own middle.

    .. math:: u = \kappa \, \left|v_c - v_s\right|

    Parameters
    ----------
    carrier_m_s : float
        Speed of the carrier [m/s]
    spin_m_s : float
        Speed of the spin belt or track, below zero against the travel, zero where it stands [m/s]
    contact_factor : float
        Radius at which a roller touches the fruit over that at which it is driven; 1 where both
        are the same or fruit lies on the belt itself [-]

    Returns
    -------
    float
        Speed of the skin about the fruit's middle [m/s]

    Raises
    ------
    RangeError
        Carrier below zero, spin no finite number, or factor not above zero

    Notes
    -----
    An index: rolling without slip. A marked fruit gives the factor that makes it a speed; enter it
    as the contact factor.

    Examples
    --------
    >>> round(surface_turning_m_s(0.5, 0.2), 9)
    0.3

    References
    ----------
    .. [1] Rolling without slip, worked out for this program
    """
    checks.not_negative(carrier_m_s, "the speed of the carrier", "m/s")
    checks.finite(spin_m_s, "the speed of the spin belt", "m/s")
    checks.positive(contact_factor, "the contact factor")
    return contact_factor * abs(carrier_m_s - spin_m_s)


def turning_1_s(
    carrier_m_s: float, spin_m_s: float, diameter_m: float, contact_factor: float = 1.0
) -> float:
    r"""Index of how many turns a fruit makes in a second.

    .. math:: n = \frac{\kappa \, |v_c - v_s|}{\pi D}

    Parameters
    ----------
    carrier_m_s : float
        Speed of the carrier [m/s]
    spin_m_s : float
        Speed of the spin belt or track, below zero against the travel, zero where it stands [m/s]
    diameter_m : float
        Diameter of the fruit [m]
    contact_factor : float
        Radius at which a roller touches the fruit over that at which it is driven [-]

    Returns
    -------
    float
        Turns [1/s]

    Raises
    ------
    RangeError
        Carrier below zero, spin no finite number, or diameter or factor not above zero

    Notes
    -----
    An index: measure once, store the factor. It takes a round fruit that rolls without slip about
    a level cross axis. Long or flat fruit turn about the axis they prefer, and poles may never
    come into view.

    Examples
    --------
    >>> round(turning_1_s(0.5, 0.2, 0.07), 3)
    1.364

    References
    ----------
    .. [1] Rolling without slip, worked out for this program
    """
    surface = surface_turning_m_s(carrier_m_s, spin_m_s, contact_factor)
    checks.positive(diameter_m, "the diameter of the fruit", "m")
    return surface / (math.pi * diameter_m)


def dwell_s(carrier_m_s: float, view_length_m: float) -> float:
    r"""Time that a fruit is in view.

    .. math:: t = L / v_c

    Parameters
    ----------
    carrier_m_s : float
        Speed of the carrier [m/s]
    view_length_m : float
        Length of the view along the travel [m]

    Returns
    -------
    float
        Time in view [s]

    Raises
    ------
    RangeError
        Speed or length not above zero

    Notes
    -----
    Exact for the middle of the fruit. To see it whole from its first image to its last, take the
    view shorter by one diameter.

    Examples
    --------
    >>> dwell_s(0.5, 0.6)
    1.2

    References
    ----------
    .. [1] Definition of speed
    """
    checks.positive(carrier_m_s, "the speed of the carrier", "m/s")
    checks.positive(view_length_m, "the length of the view", "m")
    return view_length_m / carrier_m_s


def turns_in_view(
    carrier_m_s: float,
    spin_m_s: float,
    diameter_m: float,
    view_length_m: float,
    contact_factor: float = 1.0,
) -> float:
    r"""Index of how many turns a fruit makes while it is in view.

    .. math:: N = \frac{\kappa \, |v_c - v_s|}{\pi D} \, \frac{L}{v_c}

    Parameters
    ----------
    carrier_m_s : float
        Speed of the carrier [m/s]
    spin_m_s : float
        Speed of the spin belt or track, below zero against the travel, zero where it stands [m/s]
    diameter_m : float
        Diameter of the fruit [m]
    view_length_m : float
        Length of the view along the travel [m]
    contact_factor : float
        Radius at which a roller touches the fruit over that at which it is driven [-]

    Returns
    -------
    float
        Turns [-]

    Raises
    ------
    RangeError
        Carrier, diameter, length or factor not above zero, or spin no finite number

    Notes
    -----
    An index, as :func:`turning_1_s`. On a track that stands it is :math:`\kappa L / (\pi D)` at
    any speed. Many images prove no view of the whole skin: look at the first and the last image
    of a fruit with a marked equator.

    Examples
    --------
    >>> round(turns_in_view(0.5, 0.2, 0.07, 0.6), 3)
    1.637

    References
    ----------
    .. [1] Rolling without slip, worked out for this program
    """
    time_s = dwell_s(carrier_m_s, view_length_m)
    return turning_1_s(carrier_m_s, spin_m_s, diameter_m, contact_factor) * time_s


def spin_speed_m_s(
    carrier_m_s: float,
    turns: float,
    diameter_m: float,
    view_length_m: float,
    contact_factor: float = 1.0,
) -> float:
    r"""Speed of the spin belt for wanted turns: :func:`turns_in_view` turned round.

    .. math:: v_s = v_c \left(1 - \frac{\pi D N}{\kappa L}\right)

    Parameters
    ----------
    carrier_m_s : float
        Speed of the carrier [m/s]
    turns : float
        Turns wanted in view [-]
    diameter_m : float
        Diameter of the fruit [m]
    view_length_m : float
        Length of the view along the travel [m]
    contact_factor : float
        Radius at which a roller touches the fruit over that at which it is driven [-]

    Returns
    -------
    float
        Speed of the spin belt, below zero where it has to run against the travel [m/s]

    Raises
    ------
    RangeError
        Carrier, diameter, length or factor not above zero, or turns below zero

    Notes
    -----
    Of the two solutions, that one in which the belt is slower than the carrier; the other is as
    much faster and turns the fruit the other way. An index, as :func:`turning_1_s`.

    Examples
    --------
    >>> round(spin_speed_m_s(0.5, 1.5, 0.07, 0.6), 4)
    0.2251

    References
    ----------
    .. [1] Rolling without slip, worked out for this program
    """
    checks.not_negative(turns, "the turns wanted")
    checks.positive(diameter_m, "the diameter of the fruit", "m")
    checks.positive(contact_factor, "the contact factor")
    time_s = dwell_s(carrier_m_s, view_length_m)
    return carrier_m_s - turns * math.pi * diameter_m / (contact_factor * time_s)


def images_at(frames_hz: float, dwell_s: float) -> float:
    r"""Images of one fruit, on average, at a frame rate.

    .. math:: N = f \, t

    Parameters
    ----------
    frames_hz : float
        Frames [Hz]
    dwell_s : float
        Time in view [s]

    Returns
    -------
    float
        Images, a mean and so no whole number [-]

    Raises
    ------
    RangeError
        Frames or time not above zero

    Notes
    -----
    Exact for frames at even times. A fruit gets the whole number below or above it, by where it
    is at the first frame, see :func:`images_at_least`.

    Examples
    --------
    >>> images_at(25.0, 1.2)
    30.0

    References
    ----------
    .. [1] Counting
    """
    checks.positive(frames_hz, "the frames", "Hz")
    checks.positive(dwell_s, "the time in view", "s")
    return frames_hz * dwell_s


def images_at_least(frames_hz: float, dwell_s: float) -> int:
    r"""Images that every fruit gets at a frame rate, wherever it is at the first frame.

    .. math:: N_{min} = \lfloor f \, t \rfloor

    Parameters
    ----------
    frames_hz : float
        Frames [Hz]
    dwell_s : float
        Time in view [s]

    Returns
    -------
    int
        Whole images [-]

    Raises
    ------
    RangeError
        Frames or time not above zero

    Examples
    --------
    >>> images_at_least(25.0, 1.19)
    29

    References
    ----------
    .. [1] Counting
    """
    # 29.999999999999996 is thirty that were divided and multiplied again.
    return math.floor(images_at(frames_hz, dwell_s) * (1.0 + 1e-12))


def frames_needed_hz(images: float, dwell_s: float) -> float:
    r"""Frame rate for so many images of each fruit: :func:`images_at` turned round.

    .. math:: f = N / t

    Parameters
    ----------
    images : float
        Images wanted of each fruit [-]
    dwell_s : float
        Time in view [s]

    Returns
    -------
    float
        Frames [Hz]

    Raises
    ------
    RangeError
        Images or time not above zero

    Examples
    --------
    >>> frames_needed_hz(30, 1.2)
    25.0

    References
    ----------
    .. [1] Counting
    """
    checks.positive(images, "the images of each fruit")
    checks.positive(dwell_s, "the time in view", "s")
    return images / dwell_s


def images_per_turn(images: float, turns: float) -> float:
    r"""Images for each turn of the fruit.

    .. math:: N / n

    Parameters
    ----------
    images : float
        Images of one fruit [-]
    turns : float
        Turns in view [-]

    Returns
    -------
    float
        Images in one turn [-]

    Raises
    ------
    RangeError
        Images not above zero, or a fruit that does not turn

    Notes
    -----
    No surer than the turns, which are an index.

    Examples
    --------
    >>> images_per_turn(30, 1.5)
    20.0

    References
    ----------
    .. [1] Counting
    """
    checks.positive(images, "the images of one fruit")
    checks.positive(turns, "the turns in view")
    return images / turns


def angle_per_image_rad(turns: float, images: float) -> float:
    r"""Angle that a fruit turns from one image to the next.

    .. math:: \alpha = \frac{2 \pi n}{N}

    Parameters
    ----------
    turns : float
        Turns in view [-]
    images : float
        Images of one fruit [-]

    Returns
    -------
    float
        Angle [rad]

    Raises
    ------
    RangeError
        Turns below zero, or images not above zero

    Notes
    -----
    No surer than the turns, which are an index. Zero says that all images show the same side.

    Examples
    --------
    >>> import math
    >>> round(math.degrees(angle_per_image_rad(1.5, 30)), 9)
    18.0

    References
    ----------
    .. [1] Geometry
    """
    checks.not_negative(turns, "the turns in view")
    checks.positive(images, "the images of one fruit")
    return 2.0 * math.pi * turns / images
