# ruff: noqa: PLW0108 - the lambdas carry the words the rows use
"""From the words of the published check rows to our sums: fasteners, belts, shims, fluids, battery, wiring,
wheels, brakes, time and money.

`ROUTE` maps the quantity before the colon to a callable that takes the inputs of the row by name; `LOOKUP`
maps the full quantity text of rows without inputs to what our tables hold. A row whose expected value is
empty must be refused: the callable answers None.
"""

import math
from collections.abc import Callable
from decimal import ROUND_HALF_EVEN, Decimal

from shopcli.errors import OutOfRange
from shopcli.workings import (
    battery_sums,
    belt_geometry,
    bolt_strength,
    bolt_stretch,
    brake_sums,
    cable_sums,
    coolant,
    hexagons,
    money_sums,
    oil,
    shim_packs,
    thread_forms,
    thread_table,
    tightening,
    time_sums,
    torque_patterns,
    tyre_sums,
    wheel_sums,
    wrench_sums,
)

MM_PER_INCH = 25.4
TABLE = {"A": "1.265", "B": "1.280"}


def proof_load(As: float, cls: str) -> float:  # noqa: N803 - the rows name it so
    # every row is M14 or thinner: the part of the table below 16 mm
    return bolt_strength.proof_load_n(As, bolt_strength.proof_stress_mpa(cls, 10))


def clamp_lbf(D: float, n: float, grade: int, frac: float) -> float:  # noqa: N803
    area = thread_forms.unified_stress_area_in2(D, n)
    return frac * bolt_strength.proof_stress_psi(grade, D) * area


def torque_kdf(K: float, D: float, n: float, grade: int, frac: float) -> float:  # noqa: N803
    """Torque, [lbf.ft]."""
    return bolt_strength.torque_for_clamp(K, D, clamp_lbf(D, n, grade, frac)) / 12


def hex_metric(size: str) -> tuple[float, float]:
    return hexagons.METRIC_HEX[float(size.removeprefix("M").split("-")[0])]


def drain_replace(V: float, c0: float, ct: float, ca: float) -> float | None:  # noqa: N803
    try:
        return coolant.drain_l(V, c0, ct, ca)
    except OutOfRange:
        return None


def freeze_aeg(c: float, unit: str = "F") -> float:
    celsius = coolant.freeze_c(c)
    return celsius if unit == "C" else celsius * 9 / 5 + 32


def bucket_shim_stock(old: float, measured: float, target: float, step: float) -> float:
    um = shim_packs.micrometres
    wanted = shim_packs.wanted_pack_um(
        um("old", old), um("gap", measured), um("target", target), shim_packs.FILLS
    )
    return shim_packs.stock_below(wanted, um("step", step)) / 1000


def clearance_after(old: float, new: float, measured: float) -> float:
    um = shim_packs.micrometres
    return (
        shim_packs.float_after_um(um("old", old), um("new", new), um("gap", measured), shim_packs.FILLS)
        / 1000
    )


def endfloat_shim(pack: float, measured: float, target: float) -> float:
    um = shim_packs.micrometres
    return (
        shim_packs.wanted_pack_um(um("a", pack), um("b", measured), um("c", target), shim_packs.FILLS) / 1000
    )


def best_combo(stock: list[float], target: float, maxn: int) -> float:
    um = shim_packs.micrometres
    return (
        shim_packs.best_pack(tuple(um("shim", s) for s in stock), um("target", target), maxn).total_um / 1000
    )


def rpm(mph: float, ratio: float, dia: float, const: float | None) -> float:
    """The printed constant 336 is what a circumference of 63360/(60 x 336) diameters stands for."""
    per_inch = math.pi if const is None else 63360 / (60 * const)
    return wheel_sums.engine_rpm(mph * wheel_sums.KMH_PER_MPH, ratio, per_inch * dia * MM_PER_INCH)


def round_modes(x: str) -> tuple[str, str, str]:
    even = Decimal(x).quantize(Decimal("0.01"), rounding=ROUND_HALF_EVEN)
    binary = format(round(float(x), 2), ".2f")  # what a float makes of it: the reason for Decimal
    return str(money_sums.half_up(Decimal(x))), str(even), binary


def vat_group_vs_line(lines: list[str], rate: str) -> tuple[str, str]:
    pairs = [(Decimal(net), Decimal(rate)) for net in lines]
    ((_, grouped),) = money_sums.vat_by_group(pairs).values()
    return str(grouped), str(sum((money_sums.vat(net, r) for net, r in pairs), Decimal(0)))


def tenths(minutes: int, mode: time_sums.Mode) -> Decimal:
    return time_sums.units_to_hours(time_sums.billing_units(minutes, 6, mode), 6)


def toe_deg(toe: float, dia: float) -> float:
    """Figures in inches are scaled up: the angle is of the ratio alone."""
    scale = MM_PER_INCH if dia < 200 else 1.0
    return wheel_sums.toe_deg(toe * scale, dia * scale)


ROUTE: dict[str, Callable[..., object]] = {
    "as_metric": lambda d, P: thread_forms.metric_stress_area_mm2(d, P),  # noqa: N803
    "as_unified": lambda D, n: thread_forms.unified_stress_area_in2(D, n),  # noqa: N803
    "proof_load": proof_load,
    "proof_psi": lambda grade: bolt_strength.proof_stress_psi(grade),
    "clamp_lbf": clamp_lbf,
    "torque_kdf": torque_kdf,
    "disagree_torque_kdf": torque_kdf,
    "scale": lambda value, pct: bolt_strength.reduced(value, pct),
    "torque_metric": lambda K, d_mm, F: bolt_strength.torque_for_clamp(K, d_mm, F) / 1000,  # noqa: N803
    "k_from_friction": lambda mu, d, P, d2, dm_bear: bolt_strength.nut_factor(mu, d, P, d2, dm_bear),  # noqa: N803
    "torque_k_example": lambda K, D, F: bolt_strength.torque_for_clamp(K, D, F),  # noqa: N803
    "wrench_setting": lambda T, L, E, ang: wrench_sums.wrench_setting(T, L, E, ang),  # noqa: N803
    "thread_whit": lambda D, n: thread_forms.whitworth_diameters_in(D, n),  # noqa: N803
    "thread_ba": lambda k: thread_forms.ba_sizes_mm(k),
    "hex_metric": hex_metric,
    "stages_total": lambda stages: tightening.total_angle(tuple(stages)),
    "stretch": lambda F, L, A, E: bolt_stretch.stretch_mm(F, L, A, E),  # noqa: N803
    "angle_for_stretch": lambda dl, P: bolt_stretch.turn_deg(dl, P),  # noqa: N803
    "pattern_star": lambda n: " ".join(str(place) for place in torque_patterns.star_order(n)),
    "belt_len": lambda D, d, C: belt_geometry.belt_length_handbook_mm(D, d, C),  # noqa: N803
    "belt_len_exact": lambda D, d, C: belt_geometry.belt_length_mm(D, d, C),  # noqa: N803
    "belt_deflection": lambda span: belt_geometry.rule_deflection(span),
    "split_dr": lambda dx, alpha: belt_geometry.split_radius_mm(dx, alpha),
    "belt_slack": lambda D, d, C, dd: belt_geometry.path_change_mm(d, D, C, dd),  # noqa: N803
    "bucket_shim_stock": bucket_shim_stock,
    "clearance_after": clearance_after,
    "endfloat_shim": endfloat_shim,
    "best_combo": best_combo,
    "grade_of_kv": lambda kv: str(oil.grades_of(kv, "1999")[-1]),
    "w_grade_for": lambda t: oil.winter_grade(t).grade,
    "freeze_aeg": freeze_aeg,
    "drain_replace": drain_replace,
    "sg80": lambda sg, f: battery_sums.gravity_at_80f(sg, (f - 32) * 5 / 9),
    "soc": lambda sg, table: battery_sums.charge_percent(sg, battery_sums.TABLES[TABLE[table]]),
    "ocv6": lambda sg, cells: battery_sums.rest_volts(sg, cells),
    "charge_h": lambda ah, dod, amps, factor: battery_sums.charge_hours(ah, 100 * dod, amps, factor),
    "awg_ohm": lambda awg: cable_sums.awg_ohm_per_kft(awg),
    "awg_mil": lambda awg: cable_sums.awg_mil(awg),
    "iec_ratio": lambda mm2: cable_sums.copper_ohm_per_km(mm2),
    "vdrop": lambda i, m, ohm_km, ways: cable_sums.volts_lost(i, m, ohm_km, ways),
    "temp_r": lambda t: cable_sums.warm_factor(t, cable_sums.ALPHA_IEC),
    "toe_deg": toe_deg,
    "rpm": rpm,
    "tyre_dia": lambda w, ar, rim: tyre_sums.tyre_diameter_mm(w, ar, rim),
    "drum_state": lambda measured, machine, discard: brake_sums.drum_state(measured, machine, discard),
    "oversize": lambda d0, add: brake_sums.oversize(d0, add),
    "speedo_error": lambda dia_ref, dia_new: wheel_sums.speedometer_percent(dia_ref, dia_new),
    "vat": lambda base, rate: money_sums.vat(Decimal(base), Decimal(rate)),
    "round_modes": round_modes,
    "vat_group_vs_line": vat_group_vs_line,
    "tenths": tenths,
}


def _winter(grade: str) -> str:
    (w,) = (w for w in oil.WINTER if w.grade == grade)
    return f"{w.cranking}@{w.cranking_c}/{oil.PUMPING_LIMIT}@{w.pumping_c}/{w.thinnest}"


def _summer(grade: int, revision: str = "1999") -> oil.Summer:
    (s,) = (s for s in oil.SUMMER[revision] if s.grade == grade)
    return s


def _span(grade: int) -> str:
    s = _summer(grade)
    return f"{s.low}-<{s.high}/{s.sheared}"


def _freeze(table: str, gravity: float) -> float:
    return battery_sums.FREEZE_F[TABLE[table]][gravity]


def _bolt_head(size: str) -> float:
    return hexagons.inches(hexagons.UNIFIED_HEX[size][0])


LOOKUP: dict[str, Callable[[], object]] = {
    "lookup: 1/4 BSF": lambda: thread_table.BSF["1/4"],
    "lookup: 5/16 BSF": lambda: thread_table.BSF["5/16"],
    "lookup: 3/8 BSF": lambda: thread_table.BSF["3/8"],
    "lookup: 1/2 BSF": lambda: thread_table.BSF["1/2"],
    "lookup: 5/16": lambda: _bolt_head("5/16"),
    "lookup: 1/2": lambda: _bolt_head("1/2"),
    "lookup: 9/16": lambda: _bolt_head("9/16"),
    "lookup: 9/16 nut 7/8 (bolt is 13/16)": lambda: hexagons.inches(hexagons.UNIFIED_HEX["9/16"][1]),
    "lookup: 1/4 W = 5/16 BS": lambda: hexagons.WHITWORTH_JAW["1/4"],
    "lookup: 5/16 W = 3/8 BS": lambda: hexagons.WHITWORTH_JAW["5/16"],
    "lookup: 3/8 W = 7/16 BS": lambda: hexagons.WHITWORTH_JAW["3/8"],
    "lookup: 3/16 W = 1/4 BS": lambda: hexagons.WHITWORTH_JAW["3/16"],
    "lookup: max deviation small/other classes": lambda: f"+/-{wrench_sums.SMALL_TOLERANCE_PERCENT:.0f} %",
    "lookup: 0W CCS mPa.s @C / MRV 60000 @C / KV100 min": lambda: _winter("0W"),
    "lookup: 15W CCS mPa.s @C / MRV 60000 @C / KV100 min": lambda: _winter("15W"),
    "lookup: 25W CCS mPa.s @C / MRV 60000 @C / KV100 min": lambda: _winter("25W"),
    "lookup: SAE 30 KV100 range, HTHS": lambda: _span(30),
    "lookup: SAE 50 KV100 range, HTHS": lambda: _span(50),
    "lookup: SAE 20 KV100 lower limit, Dec 99": lambda: _span(20),
    "lookup: SAE 40 HTHS (0W/5W/10W-40 : 15W/20W/25W-40 and 40), Dec 99": lambda: (
        f"{_summer(40).sheared} : {_summer(40).sheared_thick}"
    ),
    "lookup: SAE 40 HTHS for 0W/5W/10W-40 in current J300": lambda: _summer(40, "2015").sheared,
    "lookup: freeze at SG 1.265": lambda: _freeze("A", 1.265),
    "lookup: freeze at 1.155": lambda: _freeze("A", 1.155),
    "lookup: freeze at 1.120": lambda: _freeze("A", 1.120),
    "lookup: cranking power at 0 F, % of 80 F": lambda: battery_sums.CRANKING_AT_0F_PERCENT,
    "lookup: freeze at SG 1.280": lambda: _freeze("B", 1.280),
    "lookup: freeze at 1.250": lambda: _freeze("B", 1.250),
    "lookup: freeze at 1.150": lambda: _freeze("B", 1.150),
    "lookup: max out-of-round 0.015; taper 0.010": lambda: (
        f"{brake_sums.OUT_OF_ROUND_MM / MM_PER_INCH:.3f}/{brake_sums.TAPER_MM / MM_PER_INCH:.3f}"
    ),
}
