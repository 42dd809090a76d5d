"""Factors of load rating, from memory: (symbol, value, unit, meaning, article).

AASHTO Manual for Bridge Evaluation, 3rd edition (2018).  The live-load factors of legal and permit
loads changed after 2011 and 2013; those here are the later ones, remembered, and may be set by the
owner.
"""

from __future__ import annotations

Row = tuple[str, float, str | None, str, str]

RATING_CONSTANTS: tuple[Row, ...] = (
    ("phi_min", 0.85, None, "least product of condition and system factor", "MBE 6A.4.2.1"),
    ("gamma_rDC", 1.25, None, "load factor, components, rating", "MBE 6A.4.2.2"),
    ("gamma_rDW", 1.50, None, "load factor, wearing surface, rating", "MBE 6A.4.2.2"),
    (
        "gamma_rDWm",
        1.25,
        None,
        "load factor, wearing surface measured in the field",
        "MBE 6A.4.2.2",
    ),
    ("gamma_inv", 1.75, None, "live-load factor, design load, inventory", "MBE 6A.4.3.2.2"),
    ("gamma_op", 1.35, None, "live-load factor, design load, operating", "MBE 6A.4.3.2.2"),
    (
        "gamma_L0",
        1.30,
        None,
        "live-load factor, legal loads, 1000 trucks a day or fewer",
        "MBE 6A.4.4.2.3",
    ),
    (
        "gamma_L1",
        1.45,
        None,
        "live-load factor, legal loads, 5000 trucks a day or more, or unknown",
        "MBE 6A.4.4.2.3",
    ),
    ("gamma_EV", 1.30, None, "live-load factor, emergency vehicles", "FHWA memorandum"),
    ("gamma_S2i", 1.30, None, "live-load factor, Service II, inventory and legal", "MBE 6A.4.2.2"),
    ("gamma_S2o", 1.00, None, "live-load factor, Service II, operating and permit", "MBE 6A.4.2.2"),
    (
        "gamma_P1",
        1.10,
        None,
        "live-load factor, single escorted trip, no other traffic",
        "MBE 6A.4.5.4.2",
    ),
    ("gamma_P2", 1.20, None, "live-load factor, single trip in traffic", "MBE 6A.4.5.4.2"),
    ("gamma_P3", 1.40, None, "live-load factor, up to 100 trips in traffic", "MBE 6A.4.5.4.2"),
    ("A_1", 1.30, None, "dead-load factor, load factor rating", "MBE 6B.4.3"),
    ("A_2i", 2.17, None, "live-load factor, load factor rating, inventory", "MBE 6B.4.3"),
    ("A_2o", 1.30, None, "live-load factor, load factor rating, operating", "MBE 6B.4.3"),
    ("A_2si", 1.67, None, "live-load factor, serviceability, inventory", "MBE 6B.4.3"),
    ("c_inv", 0.55, None, "share of yield, bending, inventory", "MBE 6B.5.2.1"),
    ("c_op", 0.75, None, "share of yield, bending, operating", "MBE 6B.5.2.1"),
    ("c_vinv", 0.33, None, "share of yield, shear, inventory", "MBE 6B.5.2.1"),
    ("c_vop", 0.45, None, "share of yield, shear, operating", "MBE 6B.5.2.1"),
)
