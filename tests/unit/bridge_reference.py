"""The interior girder once more, in plain floats: what the sheets of stepcalc.bridge are held to.

Written from the formulas of the codes, not from the package; kip, inch and ksi unless a name says
otherwise.  It uses nothing of stepcalc but the table of shapes, which has its own tests.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from stepcalc.data.tables import table

E = 29000.0


@dataclass(frozen=True)
class Shape:
    """A row of the shape table."""

    weight: float
    area: float
    d: float
    bf: float
    tw: float
    tf: float
    k: float
    Ix: float
    Zx: float
    Sx: float
    Iy: float

    @property
    def D(self) -> float:
        return self.d - 2 * self.tf

    @property
    def J(self) -> float:
        """Three plates, with the factor for thick flanges."""
        flange = self.bf * self.tf**3 / 3 * (1 - 0.63 * self.tf / self.bf)
        return self.D * self.tw**3 / 3 + 2 * flange

    @property
    def rt(self) -> float:
        return self.bf / math.sqrt(12 * (1 + self.D / 2 * self.tw / (3 * self.bf * self.tf)))


def shape(name: str) -> Shape:
    """Return a shape by its name."""
    rows = table("w_shapes")
    columns = ("weight", "area", "d", "bf", "tw", "tf", "k", "Ix", "Zx", "Sx", "Iy")
    return Shape(*(rows.value(name, column) for column in columns))


def flange_local_stress(s: Shape, fy: float) -> float:
    """6.10.8.2.2, homogeneous, R_b = R_h = 1."""
    slender = s.bf / 2 / s.tf
    compact, limit = 0.38 * math.sqrt(E / fy), 0.56 * math.sqrt(E / (0.7 * fy))
    if slender <= compact:
        return fy
    return (1 - 0.3 * (slender - compact) / (limit - compact)) * fy


def lateral_stress(s: Shape, fy: float, lb: float, cb: float) -> float:
    """6.10.8.2.3, homogeneous, R_b = R_h = 1."""
    short, long = s.rt * math.sqrt(E / fy), math.pi * s.rt * math.sqrt(E / (0.7 * fy))
    if lb <= short:
        return fy
    if lb <= long:
        return min(cb * (1 - 0.3 * (lb - short) / (long - short)) * fy, fy)
    return min(cb * math.pi**2 * E / (lb / s.rt) ** 2, fy)


def plastification(s: Shape, fy: float) -> float:
    """R_pc of Appendix A6 for a doubly symmetric section."""
    shape_factor = s.Zx / s.Sx
    slender, noncompact = s.D / s.tw, 5.7 * math.sqrt(E / fy)
    compact = min(math.sqrt(E / fy) / (0.54 * shape_factor - 0.09) ** 2, noncompact)
    if slender <= compact:
        return shape_factor
    part = (slender - compact) / (noncompact - compact)
    return (1 - (1 - 1 / shape_factor) * part) * shape_factor


def moment_a6(s: Shape, fy: float, lb: float, cb: float) -> float:
    """Appendix A6, braced at intervals; kip-in."""
    top, fyr = plastification(s, fy) * fy * s.Sx, 0.7 * fy
    slender, compact = s.bf / 2 / s.tf, 0.38 * math.sqrt(E / fy)
    limit = 0.95 * math.sqrt(E * 0.76 / fyr)
    onset = fyr * s.Sx / top
    local = top
    if slender > compact:
        local = (1 - (1 - onset) * (slender - compact) / (limit - compact)) * top
    x = s.J / (s.Sx * (s.d - s.tf))
    short = s.rt * math.sqrt(E / fy)
    inner = math.sqrt(1 + 6.76 * (fyr / (E * x)) ** 2)
    long = 1.95 * s.rt * E / fyr * math.sqrt(x) * math.sqrt(1 + inner)
    if lb <= short:
        lateral = top
    elif lb <= long:
        lateral = min(cb * (1 - (1 - onset) * (lb - short) / (long - short)) * top, top)
    else:
        ratio = lb / s.rt
        stress = cb * math.pi**2 * E / ratio**2 * math.sqrt(1 + 0.078 * x * ratio**2)
        lateral = min(stress * s.Sx, top)
    return min(local, lateral)


def moment_6108(s: Shape, fy: float, lb: float, cb: float) -> float:
    """Article 6.10.8, braced at intervals; kip-in."""
    return min(flange_local_stress(s, fy), lateral_stress(s, fy, lb, cb)) * s.Sx


def shear(s: Shape, fy: float) -> float:
    """6.10.9.2 with k = 5; kip."""
    slender, root = s.D / s.tw, math.sqrt(5 * E / fy)
    if slender <= 1.12 * root:
        ratio = 1.0
    elif slender <= 1.40 * root:
        ratio = 1.12 * root / slender
    else:
        ratio = 1.57 * root**2 / slender**2
    return ratio * 0.58 * fy * s.D * s.tw


def web_stress(s: Shape, fy: float) -> float:
    """Bend-buckling of a web with the neutral axis at mid-depth (k = 36)."""
    return min(0.9 * E * 36 / (s.D / s.tw) ** 2, fy, fy / 0.7)


def web_yielding(s: Shape, fy: float, length: float) -> float:
    """D6.5.2 at an end reaction; kip."""
    return (2.5 * s.k + length) * fy * s.tw


def web_crippling(s: Shape, fy: float, length: float) -> float:
    """D6.5.3 at an end reaction; kip."""
    n = length / s.d
    part = 3 * n if n <= 0.2 else 4 * n - 0.2
    grip = 1 + part * (s.tw / s.tf) ** 1.5
    return float(0.4 * s.tw**2 * grip * math.sqrt(E * fy * s.tf / s.tw))


TRUCK = ((0.0, 8.0), (14.0, 32.0), (28.0, 32.0))
TANDEM = ((0.0, 25.0), (4.0, 25.0))
SWEEP_FT = 0.01


def swept_moment(span: float, axles: tuple[tuple[float, float], ...]) -> float:
    """Greatest moment of a simple span anywhere, by trying positions; kip-ft.

    The greatest moment of a row of point loads stands under one of them.
    """
    lead = np.arange(-30.0, span + 30.0, SWEEP_FT)
    at = [lead + offset for offset, _ in axles]
    on = [(x > 0) & (x < span) for x in at]
    left = sum(
        np.where(o, p * (span - x) / span, 0.0) for (_, p), x, o in zip(axles, at, on, strict=True)
    )
    best = 0.0
    for x_k, on_k in zip(at, on, strict=True):
        before = sum(
            np.where(o & (x < x_k), p * (x_k - x), 0.0)
            for (_, p), x, o in zip(axles, at, on, strict=True)
        )
        best = max(best, float(np.max(np.where(on_k, left * x_k - before, 0.0))))
    return best


def swept_end_shear(span: float, axles: tuple[tuple[float, float], ...]) -> float:
    """Greatest end reaction with an axle over the support, both directions; kip."""
    back = tuple((axles[-1][0] - offset, p) for offset, p in axles)
    best = 0.0
    for row in (axles, back):
        for start, _ in row:
            kept = [(o - start, p) for o, p in row if 0 <= o - start < span]
            best = max(best, sum(p * (span - x) / span for x, p in kept))
    return best


def swept_deflection(span: float, axles: tuple[tuple[float, float], ...]) -> float:
    """Greatest midspan deflection times E I, by trying positions; kip-ft^3."""
    lead = np.arange(-30.0, span + 30.0, SWEEP_FT)
    total = np.zeros_like(lead)
    for offset, p in axles:
        a = lead + offset
        near = np.minimum(a, span - a)
        total += np.where(near > 0, p * near * (3 * span**2 - 4 * near**2) / 48, 0.0)
    return float(np.max(total))


@dataclass(frozen=True)
class Bridge:
    """What the reference needs of a bridge; ft and the units of the names."""

    span: float = 62.0
    girders: int = 5
    spacing: float = 8.25
    overhang: float = 3.0
    barrier_width: float = 1.375
    deck_in: float = 8.5
    slab_in: float = 8.0
    haunch_in: float = 1.5
    barrier_klf: float = 0.42
    surface_psf: float = 25.0
    forms_psf: float = 15.0
    misc: float = 0.06
    modular: float = 8.0
    braces: float = 15.5
    bearing_in: float = 12.0
    pour_psf: float = 10.0
    fy: float = 50.0


@dataclass(frozen=True)
class Demands:
    """Unfactored effects on the interior girder; kip-ft and kip."""

    m_dc1: float
    m_dc2: float
    m_dw: float
    m_ll: float
    v_dc1: float
    v_dc2: float
    v_dw: float
    v_ll: float
    deflection: float  # times E I, kip-ft^3
    lanes: int


def demands(b: Bridge, s: Shape) -> Demands:
    """Dead load by tributary width, HL-93 by sweeping, distribution of an interior girder."""
    deck = (b.girders - 1) * b.spacing + 2 * b.overhang
    road = deck - 2 * b.barrier_width
    lanes = max(int(road / 12 + 1e-9), 2 if road >= 20 else 1)
    w1 = b.deck_in / 12 * b.spacing * 0.15 + b.haunch_in * s.bf / 144 * 0.15
    w1 += s.weight / 1000 * (1 + b.misc) + b.forms_psf / 1000 * (b.spacing - s.bf / 12)
    w2, w3 = 2 * b.barrier_klf / b.girders, b.surface_psf / 1000 * road / b.girders
    eg = s.d / 2 + b.haunch_in + b.slab_in / 2
    kg = b.modular * (s.Ix + s.area * eg**2)
    stiff = (kg / (12 * b.span * b.slab_in**3)) ** 0.1
    one = 0.06 + (b.spacing / 14) ** 0.4 * (b.spacing / b.span) ** 0.3 * stiff
    two = 0.075 + (b.spacing / 9.5) ** 0.6 * (b.spacing / b.span) ** 0.2 * stiff
    g_m = max(one, two) if lanes > 1 else one
    v_one, v_two = 0.36 + b.spacing / 25, 0.2 + b.spacing / 12 - (b.spacing / 35) ** 2
    g_v = max(v_one, v_two) if lanes > 1 else v_one
    m = 1.33 * max(swept_moment(b.span, TRUCK), swept_moment(b.span, TANDEM))
    v = 1.33 * max(swept_end_shear(b.span, TRUCK), swept_end_shear(b.span, TANDEM))
    share = {1: 1.2, 2: 1.0, 3: 0.85}.get(lanes, 0.65) * lanes / b.girders
    truck = 1.33 * swept_deflection(b.span, TRUCK)
    lane = 5 * 0.64 * b.span**4 / 384
    square, half = b.span**2 / 8, b.span / 2
    return Demands(
        w1 * square, w2 * square, w3 * square, g_m * (m + 0.64 * square),
        w1 * half, w2 * half, w3 * half, g_v * (v + 0.64 * half),
        share * max(truck, 0.25 * truck + lane), lanes,
    )  # fmt: skip


def lrfd_ratios(b: Bridge, s: Shape, *, braced: bool) -> dict[str, float]:
    """Demand over capacity of every LRFD check of the interior girder."""
    q, lb = demands(b, s), 12 * b.braces
    m_u = 1.25 * (q.m_dc1 + q.m_dc2) + 1.5 * q.m_dw + 1.75 * q.m_ll
    v_u = 1.25 * (q.v_dc1 + q.v_dc2) + 1.5 * q.v_dw + 1.75 * q.v_ll
    service = q.m_dc1 + q.m_dc2 + q.m_dw + 1.3 * q.m_ll
    w_c = b.pour_psf / 1000 * b.spacing
    m_c, v_c = w_c * b.span**2 / 8, w_c * b.span / 2
    pour = max(1.25 * q.m_dc1 + 1.5 * m_c, 1.4 * (q.m_dc1 + m_c))
    pour_v = max(1.25 * q.v_dc1 + 1.5 * v_c, 1.4 * (q.v_dc1 + v_c))
    full = plastification(s, b.fy) * b.fy * s.Sx
    resists = full if braced else moment_a6(s, b.fy, lb, 1.0)
    f_pour, f_service = pour * 12 / s.Sx, service * 12 / s.Sx
    delta = q.deflection * 1728 / (E * s.Ix)
    return {
        "Web slenderness": s.D / s.tw / 150,
        "Flange slenderness": s.bf / (2 * s.tf) / 12,
        "Flange width": s.D / 6 / s.bf,
        "Flange thickness": 1.1 * s.tw / s.tf,
        "Least web thickness": 0.25 / s.tw,
        "Least flange thickness": 0.3125 / s.tf,
        "Flexure, Strength I": m_u * 12 / resists,
        "Shear, Strength I": v_u / shear(s, b.fy),
        "Flange stress, Service II": f_service / (0.8 * b.fy),
        "Web bend-buckling, Service II": f_service / web_stress(s, b.fy),
        "Live-load deflection": delta / (b.span * 12 / 800),
        "Depth of the beam": 0.033 * b.span * 12 / s.d,
        "Flange yield, deck pour": f_pour / b.fy,
        "Flange buckling, deck pour": f_pour / (moment_6108(s, b.fy, lb, 1.0) / s.Sx),
        "Web bend-buckling, deck pour": f_pour / web_stress(s, b.fy),
        "Shear, deck pour": pour_v / shear(s, b.fy),
        "Web yielding at the bearing": v_u / web_yielding(s, b.fy, b.bearing_in),
        "Web crippling at the bearing": v_u / (0.8 * web_crippling(s, b.fy, b.bearing_in)),
    }


def std_root(s: Shape, lb: float) -> float:
    """(I_yc/L_b) sqrt(0.772 J/I_yc + 9.87 (d/L_b)^2), J of three plates without reduction."""
    j = (s.D * s.tw**3 + 2 * s.bf * s.tf**3) / 3
    iyc = s.tf * s.bf**3 / 12
    return iyc / lb * math.sqrt(0.772 * j / iyc + 9.87 * (s.d / lb) ** 2)


def lfd_moment(s: Shape, *, fy: float, lb: float | None) -> float:
    """Resistance of the class that a section falls in, load factor design; kip-in."""
    flange, web = s.bf / (2 * s.tf), s.D / s.tw
    flange_limit, web_limit = 65 / math.sqrt(fy), 608 / math.sqrt(fy)
    both = flange > 0.75 * flange_limit and web > 0.75 * web_limit
    compact = fy <= 50 and flange <= flange_limit and web <= web_limit
    if both and web + 9.35 * flange > 1064 / math.sqrt(fy):
        compact = False
    noncompact = s.bf / s.tf <= 24
    if lb is not None:
        compact = compact and lb <= 1400 * math.sqrt(s.Iy / s.area) / fy
        noncompact = noncompact and lb <= 20000 * s.bf * s.tf / (fy * s.d)
    braced = min(fy, (4400 * s.tf / s.bf) ** 2 / 1000) * s.Sx
    if compact:
        return fy * s.Zx
    if noncompact or lb is None:
        return braced
    return min(91000 * std_root(s, lb), fy * s.Sx, braced)


def standard_ratios(b: Bridge, s: Shape, *, method: str, braced: bool) -> dict[str, float]:
    """Demand over capacity of every check by the Standard Specifications, HS20."""
    q, lb, L, S = demands(b, s), 12 * b.braces, b.span, b.spacing
    impact, lines = min(50 / (L + 125), 0.3), S / (5.5 if q.lanes > 1 else 7.0)
    moment = max(swept_moment(L, TRUCK), 0.64 * L**2 / 8 + 18 * L / 4)
    live = moment / 2 * lines * (1 + impact)
    end = 1 + sum(max(1 - x / S, 0) for x in ((6, 4, 10) if q.lanes > 1 else (6,)))
    truck = 16 * end + (swept_end_shear(L, TRUCK) - 32) / 2 * lines
    lane = (0.64 * L / 2 + 26) / 2 * lines
    live_v = max(truck, lane) * (1 + impact)
    dead, dead_v = q.m_dc1 + q.m_dc2 + q.m_dw, q.v_dc1 + q.v_dc2 + q.v_dw
    pour = q.m_dc1 + b.pour_psf / 1000 * S * L**2 / 8
    share = {3: 0.9}.get(q.lanes, 1.0 if q.lanes < 3 else 0.75) * q.lanes / b.girders
    bends = max(swept_deflection(L, TRUCK), 5 * 0.64 * L**4 / 384 + 18 * L**3 / 48)
    delta = share * bends * (1 + impact) * 1728 / (E * s.Ix)
    web = s.D / s.tw
    root = math.sqrt(5 / (1000 * b.fy))
    c = 1.0 if web <= 6000 * root else 6000 * root / web
    if web > 7500 * root:
        c = 4.5e7 * root**2 / web**2
    common = {
        "Live-load deflection": delta / (L * 12 / 800),
        "Depth of the beam": L * 12 / 25 / s.d,
    }
    if method == "ASD":
        between = min(50000 / s.Sx * std_root(s, lb), 0.55 * b.fy)
        allowable = 0.55 * b.fy if braced else between
        f_v, shears = (dead_v + live_v) / (s.d * s.tw), min(0.33 * b.fy, c * b.fy / 3)
        return common | {
            "Bending stress": (dead + live) * 12 / s.Sx / allowable,
            "Shear stress": f_v / shears,
            "No bearing stiffeners": f_v / (0.75 * shears),
            "Bending stress, deck pour": pour * 12 / s.Sx / between,
        }
    resists = lfd_moment(s, fy=b.fy, lb=None if braced else lb)
    partly = min(91000 * std_root(s, lb), b.fy * s.Sx)
    return common | {
        "Flexure, Group I": 1.3 * (dead + 5 / 3 * live) * 12 / resists,
        "Shear, Group I": 1.3 * (dead_v + 5 / 3 * live_v) / (c * 0.58 * b.fy * s.D * s.tw),
        "Flange stress, overload": (dead + 5 / 3 * live) * 12 / s.Sx / (0.8 * b.fy),
        "Flexure, deck pour": 1.3 * pour * 12 / partly,
    }
