"""Reuse of bucket shims: move what is in the engine and in the drawer about so that the fewest are bought.

Swapping two shims often sets two valves for nothing. All swaps together are an assignment problem, which is
solved exactly: fewest bought, then clearances closest to the wanted ones, then fewest shims moved.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from shopcli.errors import BadInput
from shopcli.workings.bucket_shims import HOLDING_TOOL, REMEASURE, SHIM_INPUTS, valve_results
from shopcli.workings.bucket_valves import BucketValve, Stock, read_valves, stock_shim
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import figure, in_mm, in_tenths, listed, within
from shopcli.workings.valves import ENGINE_OFF

MOST_IN_DRAWER = 500


@dataclass(frozen=True, slots=True)
class Choice:
    """What goes into one valve: the shim in 0.0001 mm, and where it comes from.

    `origin` is "own", "drawer", "buy" or the name of the valve it sits in now; without a shim it is "none".
    """

    shim: int | None
    origin: str


def _costs(
    valves: Sequence[BucketValve], pool: Sequence[int], bought: Sequence[int | None]
) -> list[list[float]]:
    """Price of every shim in every valve, in whole numbers: no aim outweighs the one above it."""
    count = len(valves)
    off = count + 1  # a unit of clearance outweighs every shim moved
    buy = off * (1 + sum(valve.high - valve.low for valve in valves))
    nothing = buy * (count + 1)
    never = nothing * (count + 1)
    table = []
    for row, (valve, new) in enumerate(zip(valves, bought, strict=True)):
        prices = [
            off * abs(valve.after(shim) - valve.wanted) + (place != row) if valve.takes(shim) else never
            for place, shim in enumerate(pool)
        ]
        price_new = never if new is None else buy + off * abs(valve.after(new) - valve.wanted)
        table.append([float(price) for price in (*prices, *[price_new] * count, *[nothing] * count)])
    return table


def assign_shims(valves: Sequence[BucketValve], drawer: Sequence[int], stock: Stock) -> tuple[Choice, ...]:
    """Best use of the shims at hand.

    Parameters
    ----------
    valves : sequence of BucketValve
        As found and as wanted; their shims are at hand too.
    drawer : sequence of int
        Loose shims, [0.0001 mm]
    stock : Stock
        Sizes that can be bought.

    Returns
    -------
    tuple of Choice
        One for each valve.

    Notes
    -----
    Exact. A shim is used once; a valve no shim serves keeps none and is told so.

    Examples
    --------
    >>> one = BucketValve("I1", 1000, 25000, 1500, 2500, 2000)
    >>> two = BucketValve("I2", 3000, 24000, 1500, 2500, 2000)
    >>> [choice.origin for choice in assign_shims((one, two), (), Stock.of(2.0, 3.0, 0.05))]
    ['I2', 'I1']

    References
    ----------
    Rectangular assignment: D. F. Crouse, IEEE Trans. Aerospace and Electronic Systems 52 (2016) 1679, as
    in `scipy.optimize.linear_sum_assignment`.
    """
    from scipy.optimize import linear_sum_assignment

    pool = [valve.old for valve in valves] + list(drawer)
    bought = [stock_shim(valve, stock, lean_larger=False) for valve in valves]
    _, columns = linear_sum_assignment(_costs(valves, pool, bought))
    choices = []
    for row, column in enumerate(int(each) for each in columns):
        new = bought[row]
        if column < len(pool):
            origin = "own" if column == row else "drawer"
            if column < len(valves) and column != row:
                origin = valves[column].name
            choices.append(Choice(pool[column], origin))
        elif column < len(pool) + len(valves) and new is not None:
            choices.append(Choice(new, "buy"))
        else:
            choices.append(Choice(None, "none"))
    return tuple(choices)


def _whence(choice: Choice) -> str:
    words = {"own": "in place", "drawer": "from the drawer", "buy": "to buy"}
    return words.get(choice.origin, f"from {choice.origin}")


def _row(valve: BucketValve, choice: Choice) -> str:
    found = f"{valve.name}: {figure(in_mm(valve.measured), 2)} found"
    if choice.shim is None:
        return f"{found}: nothing at hand or to be had will do"
    after = figure(in_mm(valve.after(choice.shim)), 2)
    return f"{found}: {figure(in_mm(choice.shim), 2)} {_whence(choice)}, leaves {after}"


def _run_bucket_shim_reuse(
    *,
    measured_mm: tuple[float, ...],
    old_mm: tuple[float, ...],
    low_mm: tuple[float, ...],
    high_mm: tuple[float, ...],
    stock_from_mm: float,
    stock_to_mm: float,
    step_mm: float,
    wanted_mm: tuple[float, ...] = (),
    drawer_mm: tuple[float, ...] = (),
    valves: str | None = None,
    leave_good: bool = False,
) -> Worked:
    rows = read_valves(
        names=valves,
        measured_mm=measured_mm,
        old_mm=old_mm,
        low_mm=low_mm,
        high_mm=high_mm,
        wanted_mm=wanted_mm,
    )
    if len(drawer_mm) > MOST_IN_DRAWER:
        raise BadInput(f"{len(drawer_mm)} shims in the drawer", hint=f"up to {MOST_IN_DRAWER}")
    drawer = [in_tenths("drawer", within("drawer", each, 0.1, 10.0, "mm")) for each in drawer_mm]
    open_rows = [row for row in rows if not (leave_good and row.takes(row.old))]
    stock = Stock.of(stock_from_mm, stock_to_mm, step_mm)
    found = dict(zip((row.name for row in open_rows), assign_shims(open_rows, drawer, stock), strict=True))
    chosen = [found.get(row.name, Choice(row.old, "own")) for row in rows]
    return _answer(rows, chosen)


def _answer(rows: Sequence[BucketValve], chosen: Sequence[Choice]) -> Worked:
    pairs = tuple(zip(rows, chosen, strict=True))
    buy = tuple(sorted(in_mm(c.shim) for c in chosen if c.origin == "buy" and c.shim is not None))
    stuck = tuple(row.name for row, choice in pairs if choice.shim is None)
    moved = sum(choice.origin not in ("own", "none") for choice in chosen)
    origins = tuple(choice.origin for choice in chosen)
    sizes = listed(f"{figure(mm, 2)} mm" for mm in buy)
    results = [result for row, choice in pairs for result in valve_results(row, choice.shim, _whence(choice))]
    results += [
        Result("origins", "taken from", origins, "", ", ".join(origins)),
        Result("buy_mm", "to buy", buy, "mm", sizes),
        Result("bought", "number to buy", len(buy), "", str(len(buy))),
        Result("moved", "valves that get another shim", moved, "", str(moved)),
        Result("stuck", "nothing will do", stuck, "", listed(stuck)),
    ]
    return Worked(
        results=tuple(results),
        steps=tuple(_row(row, choice) for row, choice in pairs),
        cautions=REMEASURE,
        verdict=(f"buy {sizes}" if buy else "nothing to buy")
        + (f"; nothing will do for {listed(stuck)}" if stuck else ""),
    )


BUCKET_SHIM_REUSE = Working(
    name="bucket-shim-reuse",
    title="Best reuse of the bucket shims at hand",
    subject="valves",
    inputs=(
        *SHIM_INPUTS,
        Input(
            "drawer_mm",
            "Shims in the drawer",
            "numbers",
            quantity="length",
            unit="mm",
            low=0.1,
            high=10.0,
            required=False,
            help="each loose shim, as measured",
        ),
        Input("leave_good", "Leave valves within limits alone", "yesno", default=False, required=False),
    ),
    run=_run_bucket_shim_reuse,
    source="published bucket-shim formula; assignment solved exactly",
    good_for="shims on or under buckets, thicker making less clearance, up to 48 valves and 500 loose shims",
    cautions=(
        ENGINE_OFF,
        HOLDING_TOOL,
    ),
)

WORKINGS = (BUCKET_SHIM_REUSE,)
