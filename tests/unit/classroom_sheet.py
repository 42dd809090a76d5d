"""A homework with every kind of block, as the source of keys, handouts and variants."""

from __future__ import annotations

from stepcalc import Sheet, cases
from stepcalc.units import ft, inch, kip_ft, klf, ksi, pcf


def homework() -> Sheet:
    sheet = Sheet("Homework 4: rolled beam")
    with sheet.part("Given"):
        L = sheet.given("L", 37 * ft, "span", source="plan")
        S = sheet.given("S", 7.25 * ft, "spacing")
        t = sheet.given("t_s", 8.5 * inch, "slab")
        shape = sheet.given("shape", "W27X94", choices="w_shapes")
        Z = sheet.lookup("Z_x", "w_shapes", shape, "Zx", inch**3, "plastic modulus",
                         ref="table of shapes", neighbours=True)  # fmt: skip
    with sheet.part("Solution"):
        w = sheet.step("w", S * t * (150 * pcf), klf, "slab on one girder", ref="tributary width")
        M = sheet.step("M_u", 1.25 * w * L**2 / 8, kip_ft, "factored moment", ref="statics")
        plastic = cases((L <= 20 * ft, 50 * ksi * Z, "short"),
                        otherwise=(0.77 * 50 * ksi * Z, "long"))  # fmt: skip
        M_n = sheet.step("M_n", plastic, kip_ft, "nominal moment")
        sheet.note(f"The moment {M.shown} kip-ft is near midspan, about {M.number:.0f}.")
        sheet.check("Flexure", M <= 0.9 * M_n, ref="LRFD 6.10")
        sheet.table(["what", "value"], [["moment", M], ["span", L]], f"M is {M.shown}")
        line = {"label": "M", "y": [0, M.number, 0]}
        sheet.figure({"kind": "curves", "x": [0, 18.5, 37], "x_label": "x, ft", "y_label": "M",
                      "series": [line], "marks": []}, f"Greatest {M.shown}")  # fmt: skip
    sheet.conclude(f"The moment is {M.shown}.")
    return sheet
