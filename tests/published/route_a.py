# ruff: noqa: PLW0108 - the lambdas carry the words the rows use
"""From the words of the published check rows to our sums: conversions, ignition, valves, compression."""

from collections.abc import Callable

from shopcli.workings import (
    advance,
    altitude,
    bucket_valves,
    cam_events,
    cap,
    engine,
    firing,
    fuel,
    gap_dwell,
    ignition,
    leakage,
    spread,
    sum_rule,
    timing,
    valve_plan,
)

M_PER_FOOT = 0.3048


def companions(order: str) -> str:
    return " ".join(f"{one}/{other}" for one, other in firing.companions(firing.parse_order(order)))


def cap_clockwise(order: str, rotor: cap.Rotor) -> str:
    return " ".join(str(tower) for tower in cap.towers_clockwise(firing.parse_order(order), rotor))


def two_stop(order: str, stop: float, margin: float, **events: float) -> str:
    cam = cam_events.CamEvents(**events)
    valves = valve_plan.adjustable(cam, firing.parse_order(order), stop, margin)
    numbers = {kind: " ".join(str(v.cylinder) for v in valves if v.kind == kind) for kind in "IE"}
    return f"I {numbers['I']} | E {numbers['E']}"


def sum_rule_ok(layout: str, order: str, **events: float) -> float:
    parsed = firing.parse_order(order)
    row = cam_events.parse_layout(layout, len(parsed))
    return min(sum_rule.sum_rule_in_hand_deg(row, parsed, cam_events.CamEvents(**events)))


def pass_pct_of_max(readings: list[float], pct: float) -> bool:
    judged = spread.judge_spread(readings, spread.LOWEST_OF_HIGHEST, allowed_percent=pct)
    return not spread.low_cylinders(readings, judged.threshold_psi)


def bucket_shim_stock(old: float, measured: float, target: float, step: float) -> float | None:
    # limits wide enough that only the rule "odd size: the thinner one" decides, as in the printed example
    (valve,) = bucket_valves.read_valves(
        names=None, measured_mm=[measured], old_mm=[old], low_mm=[0.10], high_mm=[0.30], wanted_mm=[target]
    )
    shim = bucket_valves.stock_shim(valve, bucket_valves.Stock.of(2.0, 3.0, step))
    return None if shim is None else shim / 10_000


def clearance_after(old: float, new: float, measured: float) -> float:
    return bucket_valves.clearance_after_mm(measured, old, new)


ROUTE: dict[str, Callable[..., object]] = {
    "l_per_100km": lambda mpg, gallon: fuel.l_per_100km(mpg, gallon),
    "sector_deg": lambda n: ignition.sector_deg(n),
    "dwell_pct": lambda deg, n: ignition.dwell_percent(deg, n),
    "spark_interval": lambda n: firing.spark_interval_deg(n),
    "timing_shift_from_dwell": lambda ddwell: gap_dwell.timing_shift_deg(ddwell),
    "dist_to_crank": lambda d: ignition.distributor_to_crank(d),
    "dwell_ms": lambda deg, rpm: ignition.dwell_ms(deg, rpm),
    "arc": lambda D, deg: timing.arc_length(D, deg),  # noqa: N803 - the rows name it so
    "total_advance": lambda static, cent_dist, vac_dist: advance.total_advance_deg(
        static, cent_dist, vac_dist
    ),
    "companions": companions,
    "cap_clockwise": cap_clockwise,
    "two_stop": two_stop,
    "duration_intake": lambda ivo, ivc: cam_events.duration_deg(ivo, ivc),
    "overlap": lambda ivo, evc: cam_events.CamEvents(ivo=ivo, ivc=0.0, evo=0.0, evc=evc).overlap_deg,
    "sum_rule": lambda valve, n: sum_rule.sum_rule_partner(valve, n),
    "sum_rule_ok": sum_rule_ok,
    "pass_pct_of_max": pass_pct_of_max,
    "min_pct": lambda readings: spread.lowest_percent(readings),
    "flag_below_avg": lambda readings, pct: spread.average_threshold(readings, pct),
    "alt_ratio_table": lambda p_hi, p_lo: spread.lowest_percent([p_hi, p_lo]) / 100.0,
    "isa_psia": lambda ft: altitude.air_pressure_psi(ft * M_PER_FOOT),
    "isa_ratio": lambda ft: altitude.air_pressure_ratio(ft * M_PER_FOOT),
    "sea_level_gauge": lambda gauge, ft: altitude.sea_level_gauge_psi(
        gauge, altitude.air_pressure_psi(ft * M_PER_FOOT)
    ),
    "displacement": lambda bore, stroke, n: engine.displacement(bore, stroke, n),
    "static_cr": lambda swept, clearance: engine.compression_ratio(swept, clearance),
    "crank_psi": lambda cr, n, patm: engine.cranking_pressure(cr, n, patm),
    "leak_pct": lambda p_in, p_cyl: leakage.leak_percent(p_in, p_cyl),
    "bucket_shim_stock": bucket_shim_stock,
    "clearance_after": clearance_after,
}
