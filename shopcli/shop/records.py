"""Every table of the shop, from one place: their keys point across the files, so whoever needs one takes it from here.

Storage only, no rules; what the columns keep to is said in `shopcli.shop.record_base`.
"""

from shopcli.shop.bench_records import Finding, Owed, Photo, Reading, Tag, Tool
from shopcli.shop.buying_records import OrderLine, PurchaseOrder, SentBack
from shopcli.shop.call_records import CallNote
from shopcli.shop.card_records import Card, CardTemplate, Task, Waiver, Wish
from shopcli.shop.clock_records import Break, ClockEntry
from shopcli.shop.erasure_records import ErasedRow, Erasure
from shopcli.shop.journal_records import Counter, Journal
from shopcli.shop.money_records import BillItem, CreditNote, Discount, Invoice, Payment
from shopcli.shop.offer_records import Offer, OfferAnswer
from shopcli.shop.own_time_records import OwnTime
from shopcli.shop.part_records import CardPart, Outwork, Part
from shopcli.shop.people_records import Customer, Person, Pin, Vehicle
from shopcli.shop.record_base import Versioned
from shopcli.shop.sheet_records import Sheet, SheetSpec, VehicleSpec
from shopcli.shop.stock_records import PriceChange, StockMove, Supplier
from shopcli.shop.week_records import (
    Absence,
    CardStay,
    DayHours,
    JobTimes,
    SoldHours,
    TakenOff,
    WeekHours,
    WeekJobs,
    WeekZone,
)

__all__ = [
    "Absence",
    "BillItem",
    "Break",
    "CallNote",
    "Card",
    "CardPart",
    "CardStay",
    "CardTemplate",
    "ClockEntry",
    "Counter",
    "CreditNote",
    "Customer",
    "DayHours",
    "Discount",
    "ErasedRow",
    "Erasure",
    "Finding",
    "Invoice",
    "JobTimes",
    "Journal",
    "Offer",
    "OfferAnswer",
    "OrderLine",
    "Outwork",
    "Owed",
    "OwnTime",
    "Part",
    "Payment",
    "Person",
    "Photo",
    "Pin",
    "PriceChange",
    "PurchaseOrder",
    "Reading",
    "SentBack",
    "Sheet",
    "SheetSpec",
    "SoldHours",
    "StockMove",
    "Supplier",
    "Tag",
    "TakenOff",
    "Task",
    "Tool",
    "Vehicle",
    "VehicleSpec",
    "Versioned",
    "Waiver",
    "WeekHours",
    "WeekJobs",
    "WeekZone",
    "Wish",
]
