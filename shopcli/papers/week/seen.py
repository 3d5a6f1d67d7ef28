"""Everything the report of a week is built from, read once; and what is reckoned of it besides."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal

from shopcli.shop.week_ahead import AheadView
from shopcli.shop.week_views import (
    Actuals,
    FlowView,
    HoursLine,
    HoursView,
    MoneyView,
    MoneyWeek,
    Period,
    QualityView,
    ToDo,
    WeekFlow,
)
from shopcli.workings.listed_times import Against

TREND = 13  # weeks of the small pictures and of the tables by week


@dataclass(frozen=True, slots=True)
class Trend:
    """The last weeks up to the end of the period, oldest first."""

    flow: tuple[WeekFlow, ...]
    hours: tuple[HoursLine, ...]
    money: tuple[MoneyWeek, ...] = ()


@dataclass(frozen=True, slots=True)
class Seen:
    """The views of a period and of the one before. What somebody may not see is None.

    `beyond` is by card what those past their authority have come to, with VAT; empty for who sees no money.
    Before it is `whole` the figures of the periods are there, and what stands whatever the period is still to be read.
    """

    shop: str
    currency: str
    made: datetime
    today: date
    period: Period
    trend: Trend
    flow: FlowView
    flow_before: FlowView
    hours: HoursView | None
    hours_before: HoursView | None
    money: MoneyView | None
    money_before: MoneyView | None
    actuals: tuple[Actuals, ...]
    against: Mapping[str, Against]
    quality: QualityView | None
    quality_before: QualityView | None
    ahead: AheadView
    todo: tuple[ToDo, ...]
    beyond: Mapping[int, Decimal] = field(default_factory=dict)
    whole: bool = True
