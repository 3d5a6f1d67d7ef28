"""Little's law, held against what was counted: how many stand in the shop, how many go out, how long each stays."""

from dataclasses import dataclass

from shopcli.errors import OutOfRange

WEEK_DAYS = 7.0
NEAR = 0.15  # how far the law may be off before the shop is called unsettled: common practice, no source


@dataclass(frozen=True, slots=True)
class Little:
    """The law held against the counts.

    Attributes
    ----------
    counted : float
        Cards that stood in the shop on average, [-]
    by_law : float
        What rate and stay make of it, [-]
    off : float or None
        Counted over by the law less one; None where the law makes nothing, [-]
    """

    counted: float
    by_law: float
    off: float | None

    @property
    def settled(self) -> bool:
        """Whether the two are near enough that rate and stay describe the shop."""
        return self.off is not None and abs(self.off) <= NEAR

    @property
    def says(self) -> str:
        """What it means, in words."""
        if self.off is None:
            return "nothing went out: the law says nothing yet"
        if self.settled:
            return "the three agree: what comes in goes out"
        if self.off > 0:
            return "more stand here than go through: cards wait longer than those that went out did"
        return "fewer stand here than went through: old cards went out"


def little(counted: float, per_week: float, stay_days: float) -> Little:
    """Hold the cards counted in the shop against rate times stay, L = λ W [1]_.

    Parameters
    ----------
    counted : float
        Cards in the shop, averaged over the days of the period, [-]
    per_week : float
        Cards that went out, [1/week]
    stay_days : float
        From intake to hand-over, the mean of the cards that went out, [day]

    Returns
    -------
    Little

    Raises
    ------
    OutOfRange
        When one of them is below zero.

    Examples
    --------
    >>> little(20.0, 10.0, 14.0)
    Little(counted=20.0, by_law=20.0, off=0.0)
    >>> little(30.0, 10.0, 14.0).says
    'more stand here than go through: cards wait longer than those that went out did'

    Notes
    -----
    The law holds for any order of work and any scatter, but over a time long enough that what came in went out: the mean
    of stays, never the median. Where the three do not agree, cards stand here that the stay does not know of yet.

    References
    ----------
    .. [1] J. D. C. Little, A Proof for the Queuing Formula: L = λ W, Operations Research 9, 1961, pages 383 to 387.
    """
    for name, value in (("counted", counted), ("per_week", per_week), ("stay_days", stay_days)):
        if value < 0:
            raise OutOfRange(name, value, "0 or more")
    by_law = per_week * stay_days / WEEK_DAYS
    return Little(counted, by_law, counted / by_law - 1 if by_law else None)
