"""Force effects of girders over one or more spans, as nodes of a sheet that prove themselves.

`layout` says what beam a text and some spans make, `loads` what a load text means; `kernels` holds
the numerical procedures, `ordinates` and `tenth_points` their proofs; `spans`, `lengths` and
`effects` are the procedures that write them on a sheet.
"""
