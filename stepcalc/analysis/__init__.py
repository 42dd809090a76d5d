"""Beams and moving loads: floats and arrays in, floats and arrays out, in any coherent unit.

Nothing here knows a unit or a sheet. Lengths, forces and rigidities that go in together must be in
one coherent system (ft and kip, inch and kip, m and kN); what comes out is in the same system.

Simple spans, over arrays of spans: `influence`, `uniform`, `train_moment`, `train_shear`,
`train_deflection`. Beams of any spans: `beam` says what one beam is, `beam_batch` what many of one
make are; `batch_lines` and `batch_values` work on rows of them, of which a single beam has one.
Of one beam, `beam_response` says what loads that stand still do, `influence_lines` gives exact
piecewise cubics, `live_load_envelope` and `envelope_peak` (by `peak_search`) the extremes of
`load_case`, `load_proof` how a value comes about, and `concurrent` what else acts there. `vehicles`
and `vehicle_file` hold the vehicles.
"""
