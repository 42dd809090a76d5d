"""Article 6.10.8 and Appendix A6 in plain floats (kip, inch), written apart from the package."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sqrt

E = 29000.0


@dataclass(frozen=True)
class Reference:
    """A section in one sense of bending."""

    b_c: float
    t_c: float
    b_t: float
    t_t: float
    D: float
    t_w: float
    F_yc: float
    F_yt: float
    F_yw: float
    D_c: float
    D_cp: float
    M_p: float
    M_yc: float
    M_yt: float
    R_h: float

    @property
    def root(self) -> float:
        return sqrt(E / self.F_yc)

    @property
    def slenderness(self) -> float:
        return 2 * self.D_c / self.t_w

    def web_limit(self, edition: str = "8th") -> float:
        factor = 5.7
        if edition == "9th" and self.D_c > 0:
            a_wc = self.slenderness * self.t_w**2 / (self.b_c * self.t_c)
            factor = min(max(3.1 + 5.0 / a_wc, 4.6), 5.7)
        return factor * self.root

    def shedding(self, edition: str = "8th") -> float:
        a_wc = 2 * self.D_c * self.t_w / (self.b_c * self.t_c)
        over = self.slenderness - self.web_limit(edition)
        return 1.0 if over <= 0 else 1 - a_wc * over / (1200 + 300 * a_wc)

    def stress(self, L_b: float, C_b: float, edition: str = "8th") -> tuple[float, float]:
        """Return flange local and lateral-torsional buckling stress."""
        R_b = self.shedding(edition)
        top = R_b * self.R_h * self.F_yc
        F_yr = max(min(0.7 * self.F_yc, self.F_yw), 0.5 * self.F_yc)
        kink = F_yr / (self.R_h * self.F_yc)
        lam, lp, lr = self.b_c / 2 / self.t_c, 0.38 * self.root, 0.56 * sqrt(E / F_yr)
        local = top if lam <= lp else top * (1 - (1 - kink) * (lam - lp) / (lr - lp))
        r_t = self.b_c / sqrt(12 + 4 * self.D_c * self.t_w / (self.b_c * self.t_c))
        L_p, L_r = r_t * self.root, pi * r_t * sqrt(E / F_yr)
        if L_b <= L_p:
            lateral = top
        elif L_b <= L_r:
            lateral = min(top, C_b * top * (1 - (1 - kink) * (L_b - L_p) / (L_r - L_p)))
        else:
            lateral = min(top, C_b * R_b * pi**2 * E * (r_t / L_b) ** 2)
        return local, lateral

    def plastification(self) -> tuple[float, float]:
        """Return R_pc and R_pt."""
        M_y, rw = min(self.M_yc, self.M_yt), self.web_limit()
        compact = self.root / (0.54 * self.M_p / (self.R_h * M_y) - 0.09) ** 2
        if self.D_c > 0:
            compact = min(compact, rw * self.D_cp / self.D_c)
        if 2 * self.D_cp / self.t_w <= compact:
            return self.M_p / self.M_yc, self.M_p / self.M_yt
        start = min(compact * self.D_c / self.D_cp, rw)
        share = (self.slenderness - start) / (rw - start)
        found = [
            min(self.M_p / M, (1 - (1 - self.R_h * M / self.M_p) * share) * self.M_p / M)
            for M in (self.M_yc, self.M_yt)
        ]
        return found[0], found[1]

    def moment(self, L_b: float, C_b: float) -> tuple[float, float, float]:
        """Return flange local and lateral-torsional buckling, and the tension flange, in kip-in."""
        R_pc, R_pt = self.plastification()
        top, S = R_pc * self.M_yc, self.M_yc / self.F_yc
        S_t = self.M_yt / self.F_yt
        least = min(0.7 * self.F_yc, self.R_h * self.F_yt * S_t / S, self.F_yw)
        F_yr = max(least, 0.5 * self.F_yc)
        k_c = min(max(4 / sqrt(self.D / self.t_w), 0.35), 0.76)
        lam, lp, lr = self.b_c / 2 / self.t_c, 0.38 * self.root, 0.95 * sqrt(E * k_c / F_yr)
        kink = F_yr * S / top
        local = top if lam <= lp else top * (1 - (1 - kink) * (lam - lp) / (lr - lp))
        h = self.D + self.t_c / 2 + self.t_t / 2
        J = self.D * self.t_w**3 / 3
        for b, t in ((self.b_c, self.t_c), (self.b_t, self.t_t)):
            J += b * t**3 / 3 * (1 - 0.63 * t / b)
        r_t = self.b_c / sqrt(12 + 4 * self.D_c * self.t_w / (self.b_c * self.t_c))
        x = F_yr * S * h / (E * J)
        L_p = r_t * self.root
        L_r = 1.95 * r_t * E / F_yr * sqrt(J / (S * h)) * sqrt(1 + sqrt(1 + 6.76 * x**2))
        if L_b <= L_p:
            lateral = top
        elif L_b <= L_r:
            lateral = min(top, C_b * top * (1 - (1 - kink) * (L_b - L_p) / (L_r - L_p)))
        else:
            slender = L_b / r_t
            F_cr = C_b * pi**2 * E / slender**2 * sqrt(1 + 0.078 * J / (S * h) * slender**2)
            lateral = min(top, F_cr * S)
        return local, lateral, R_pt * self.M_yt
