"""A package of two sheets, one of which takes a value from the other; its numbers are invented."""

from __future__ import annotations

from typing import Any

from stepcalc import Package, Revision, Sheet, TitleBlock
from stepcalc.units import ft, inch, kip, kip_ft, klf, pcf

TITLE = {
    "project": "Mill Lane over Otter Creek", "subject": "Interior girder", "structure": "B-017",
    "owner": "County of Otter", "job": "2026-041", "revision": "1",
    "prepared_by": "A. Preparer", "prepared_on": "2026-11-25",
}  # fmt: skip
REVISIONS = (
    Revision("0", "2026-10-01", "A. Preparer", "first issue"),
    Revision("1", "2026-11-25", "A. Preparer", "span as measured"),
)


def sheets(span: Any = 53 * ft) -> list[Sheet]:
    """Return the two sheets."""
    loads = Sheet("Permanent loads")
    with loads.part("Deck"):
        S = loads.given("S", 7.75 * ft, "girder spacing", source="framing plan")
        t = loads.given("t_s", 8 * inch, "deck thickness")  # without a source
        gamma = loads.given("gamma_c", 150 * pcf, "unit weight of concrete", assumed="usual mix")
        loads.given("h", 3 * ft, "height of the rail", source="framing plan")  # used by nothing
        w = loads.step("w_deck", S * t * gamma, klf, "deck on one girder", ref="tributary width")
    girder = Sheet("Girder")
    with girder.part("Effects"):
        L = girder.given("L", span, "span", source="plans")
        M = girder.step("M_D", w * L**2 / 8, kip_ft, "dead-load moment", ref="statics")
        girder.step("V_D", w * L / 2, kip, "dead-load shear", ref="statics")
    with girder.part("Checks"):
        with girder.part("Flexure"):
            C = girder.given("M_n", 400 * kip_ft, "resistance", source="LRFD 6.10.7.1.1")
            phi = girder.given("phi_f", 1.0, "resistance factor", source="LRFD 6.5.4.2")
            girder.check("Flexure", M <= phi * C, ref="LRFD 6.10.7.1.1", location="midspan")
        girder.check("Reserve", 2 * M <= C)
    girder.conclude(not_checked=("fatigue",))
    return [loads, girder]


def package(**more: Any) -> Package:
    """Return the package of both sheets."""
    return Package(TitleBlock(**TITLE, revisions=REVISIONS), sheets(), **more)
